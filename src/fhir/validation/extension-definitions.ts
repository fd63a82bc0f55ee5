import type { StructureDefinition, StructureDefinitionContext } from 'fhir/r4.js';
import type { BaseElements, JsonMember } from './base-elements.js';
import { DefinitionFault } from './definition-fault.js';
import type { OccurrenceCheck } from './occurrences.js';
import type { ProfileNode } from './profile-tree.js';
import type { JsonObject, Walk } from './walk.js';

/** Where an extension stands in a resource. */
export interface ExtensionPlace {
  /** The element that it extends; undefined for a whole resource. */
  readonly member: JsonMember | undefined;
  /** Type of the resource or element that it extends. */
  readonly type: string;
  /** Where what it extends is defined: `Observation.component`, `CodeableConcept`. */
  readonly content: string;
  /** What it extends, and that as an object. */
  readonly extended: JsonObject;
  /** Path from the resource: `Observation.bodySite.coding`. */
  readonly path: () => string;
  readonly isModifier: boolean;
}

/** Whether a condition of FHIRPath holds of a place; `extension` is what `%extension` means. */
export type ContextCondition = (place: ExtensionPlace, extension: JsonObject, walk: Walk) => boolean;

/** The FHIRPath that extension definitions need. */
export interface ContextLanguage {
  /** Whether the expression, evaluated on the resource, gives the element among others. */
  readonly compileContext: (expression: string) => ContextCondition;
  /** Whether the expression holds of the element. */
  readonly compileInvariant: (expression: string) => ContextCondition;
}

/** An extension's definition as a check of an instance of it, wherever it stands. */
export interface ExtensionRule {
  readonly definition: StructureDefinition;
  /** How many of it one element may have. */
  readonly max: number | '*';
  readonly checkPlace: (extension: JsonObject, place: ExtensionPlace, walk: Walk) => void;
  readonly checkContent: OccurrenceCheck;
}

/** Whether the definition is of an extension. */
export const isExtension = ({ type }: StructureDefinition): boolean => type === 'Extension';

/** Makes the rule of one extension of its definition, its tree and the check of its content. */
export function compileExtension(
  definition: StructureDefinition,
  tree: ProfileNode,
  checkContent: OccurrenceCheck,
  elements: BaseElements,
  language: ContextLanguage,
): ExtensionRule {
  const isInContext = compileContexts(definition, elements, language);
  const invariants = (definition.contextInvariant ?? []).map(
    (expression) => [expression, language.compileInvariant(expression)] as const,
  );
  const isModifier = tree.isModifier === true;
  return {
    definition,
    max: tree.max ?? '*',
    checkContent,
    checkPlace: (extension, place, walk) => {
      modifier(isModifier, place, walk);
      if (!isInContext(place, extension, walk)) reportContext(definition, place, walk);
      for (const [expression, holds] of invariants) {
        if (!holds(place, extension, walk)) reportInvariant(expression, walk);
      }
    },
  };
}

/** ElementDefinition.isModifier of the extension: where it must stand (R4 extensibility, "Modifier Extensions"). */
function modifier(isModifier: boolean, place: ExtensionPlace, walk: Walk): void {
  if (isModifier === place.isModifier) return;
  const [is, must] = isModifier
    ? ['can change the meaning', 'modifierExtension']
    : ['changes no meaning', 'extension'];
  const diagnostics = `This extension ${is} of what it extends; it must stand in ${must}.`;
  walk.report({ code: 'structure', rule: 'extension-modifier', diagnostics, allowed: must });
}

/** StructureDefinition.context: an extension may stand where one of them says. */
function compileContexts(
  definition: StructureDefinition,
  elements: BaseElements,
  language: ContextLanguage,
): ContextCondition {
  const contexts = definition.context ?? [];
  if (contexts.length === 0) return () => true;
  const tests = contexts.map((context) => compileContext(context, definition, elements, language));
  return (place, extension, walk) => tests.some((isIn) => isIn(place, extension, walk));
}

/** R4 defining-extensions, "Extension Context". */
function compileContext(
  { type, expression }: StructureDefinitionContext,
  { url }: StructureDefinition,
  elements: BaseElements,
  language: ContextLanguage,
): ContextCondition {
  switch (type) {
    case 'element':
      return elementContext(expression, elements);
    case 'extension':
      return ({ extended }) => extended['url'] === expression || extended['url'] === expression.split('#')[1];
    case 'fhirpath':
      return language.compileContext(expression);
  }
  throw new DefinitionFault(url, '', `The context type ${String(type)} is not known.`);
}

/** By a path or the name of a type; `URL#id` of a profile's element by its path, slices aside. */
function elementContext(expression: string, elements: BaseElements): ContextCondition {
  const id = (expression.split('#').pop() ?? '').replaceAll(/:[^.]+/g, '');
  const name = id.slice(id.lastIndexOf('/') + 1);
  // As the standard's own extensions have it, Element means resources too.
  if (name === 'Element') return () => true;
  return ({ type, content, member, path }) => {
    if (member?.element.path === name || content === name || elements.isOfType(type, name)) return true;
    if (member === undefined) return false;
    const { element, form } = member;
    if (withLabel(element.path, form.jsonName) === name) return true;
    const whole = path();
    return whole === name || withLabel(whole, element.label) === name;
  };
}

/** `Observation.value[x]` as `Observation.valueQuantity`, and the other way round. */
const withLabel = (path: string, label: string): string => path.slice(0, path.lastIndexOf('.') + 1) + label;

function reportContext({ context = [] }: StructureDefinition, { path }: ExtensionPlace, walk: Walk): void {
  const allowed = context.map(({ expression }) => expression);
  walk.report({
    code: 'structure',
    rule: 'extension-context',
    diagnostics: `This extension may not stand on ${path()}; it may on ${allowed.join(', ')}.`,
    found: path(),
    allowed,
  });
}

function reportInvariant(expression: string, walk: Walk): void {
  const diagnostics = `What this extension extends does not meet its condition: ${expression}.`;
  walk.report({ code: 'invariant', rule: 'extension-context', diagnostics, allowed: expression });
}
