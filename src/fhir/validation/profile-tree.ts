import type {
  ElementDefinition,
  ElementDefinitionConstraint,
  ElementDefinitionSlicing,
  ElementDefinitionType,
  StructureDefinition,
} from 'fhir/r4.js';
import { type BaseElement, type BaseElements, capitalized, type ElementForm } from './base-elements.js';
import { DefinitionFault } from './definition-fault.js';
import { countOf } from './given-values.js';
import { primitiveRule, primitiveText } from './primitives.js';
import { isJsonObject } from './walk.js';

/** A value that an element must have or match, as `fixed[x]`, `pattern[x]`, `minValue[x]` give it. */
export interface GivenValue {
  readonly type: string;
  readonly value: unknown;
}

/** One type that a profile allows at an element, with what it asks of a value of that type. */
export interface AllowedType {
  readonly form: ElementForm;
  readonly profiles: readonly string[];
  /** Profiles of the targets of a Reference; empty: as the standard has it. */
  readonly targets: readonly string[];
  /** How a Reference may reach its target; empty: any. */
  readonly aggregation: readonly string[];
  readonly versioning: string;
}

/** What a profile, with those it is derived from, says of one element; what it leaves out is as the standard has it. */
export interface ProfileNode {
  /** Element id: `Observation.component:left.code`. */
  readonly id: string;
  /** The slice's name; empty for an element as a whole. */
  readonly sliceName: string;
  /** Undefined for the root. */
  readonly base: BaseElement | undefined;
  /** What may stand here, as far as it is narrowed. */
  forms: readonly ElementForm[];
  readonly children: Map<string, ProfileNode>;
  readonly slices: Map<string, ProfileNode>;
  min?: number;
  max?: number | '*';
  types?: readonly AllowedType[];
  slicing?: ElementDefinitionSlicing;
  fixed?: GivenValue;
  pattern?: GivenValue;
  minValue?: GivenValue;
  maxValue?: GivenValue;
  maxLength?: number;
  isModifier?: boolean;
  /** Where the rules of this element's own elements stand in the same definition. */
  contentReference?: string;
  /** Value sets that the code must be of. */
  readonly bindings: Set<string>;
  /** Value sets that a code must be of where there is one; a text may stand alone. */
  readonly maxValueSets: Set<string>;
  readonly constraints: Map<string, ElementDefinitionConstraint>;
}

/** What the making of a tree needs to know. */
export interface TreeContext {
  readonly elements: BaseElements;
  /** Names the definition in faults. */
  readonly definition: string;
}

interface NarrowingContext extends TreeContext {
  /** The types that this definition names of a choice, and the forms that the choice had before. */
  readonly named: Map<ProfileNode, { readonly before: readonly ElementForm[]; readonly forms: Set<string> }>;
}

/** Where the canonical URLs of the standard's types and extensions begin. */
export const STRUCTURES = 'http://hl7.org/fhir/StructureDefinition/';
const SYSTEM_TYPES = 'http://hl7.org/fhirpath/';
const MAX_VALUE_SET = `${STRUCTURES}elementdefinition-maxValueSet`;

/** The tree of a type before any profile has narrowed it. */
export function plainTree(form: ElementForm): ProfileNode {
  return newNode(form.type, '', undefined, [form]);
}

/** A copy of a tree, that a derived profile may narrow further. */
export function copyTree(node: ProfileNode): ProfileNode {
  const copyAll = (nodes: ReadonlyMap<string, ProfileNode>): Map<string, ProfileNode> =>
    new Map([...nodes].map(([name, each]) => [name, copyTree(each)]));
  return {
    ...node,
    children: copyAll(node.children),
    slices: copyAll(node.slices),
    bindings: new Set(node.bindings),
    maxValueSets: new Set(node.maxValueSets),
    constraints: new Map(node.constraints),
  };
}

/**
 * Narrows a tree by the elements of a StructureDefinition: its snapshot, or its differential, which may skip levels, leave
 * out ids and rely on order (R4 profiling, "Snapshot and Differential"). Throws a DefinitionFault.
 */
export function narrowTree(
  root: ProfileNode,
  definition: StructureDefinition,
  { elements: base, definition: name }: TreeContext,
): void {
  const context: NarrowingContext = { elements: base, definition: name, named: new Map() };
  const elements: unknown = (definition.snapshot ?? definition.differential)?.element;
  if (!Array.isArray(elements)) {
    throw new DefinitionFault(context.definition, '', 'It has neither a snapshot nor a differential.');
  }
  let steps: readonly Step[] = [];
  for (const element of elements as readonly ElementDefinition[]) {
    steps = stepsOf(element, steps, context);
    narrowNode(locate(root, steps, context), element, context);
  }
}

/** The node at a path of labels below another one (`code.coding`), as far as the profile says anything there. */
export function nodeAt(node: ProfileNode, path: readonly string[]): ProfileNode | undefined {
  const [step, ...rest] = path;
  if (step === undefined) return node;
  const child = node.children.get(step) ?? node.children.get(`${step}[x]`);
  return child === undefined ? undefined : nodeAt(child, rest);
}

/** The node of an element id, slices aside. */
export function nodeById(root: ProfileNode, id: string): ProfileNode | undefined {
  return nodeAt(root, id.split('.').slice(1));
}

/** One step of an element's id: `component:left` is the name `component` with the slice `left`. */
interface Step {
  readonly name: string;
  readonly slice: string;
  /** Whether the path names one type of a choice: `valueQuantity`. */
  readonly isTyped: boolean;
}

function stepsOf(
  { id, path, sliceName }: ElementDefinition,
  before: readonly Step[],
  context: TreeContext,
): readonly Step[] {
  if (typeof path !== 'string' || path === '') {
    throw new DefinitionFault(context.definition, id ?? '', 'An element has no path.');
  }
  const names = path.split('.');
  const told = typeof id === 'string' ? readId(id) : [];
  if (told.length === names.length && told.every(({ name }, index) => isSameStep(name, names[index]))) {
    return told.map((step, index) => ({ ...step, isTyped: step.name !== names[index] }));
  }
  const shared = names.findIndex((name, index) => before[index]?.name !== name);
  return names.map((name, index) => {
    if (index === names.length - 1) return { name, slice: sliceName ?? '', isTyped: false };
    const isShared = shared === -1 || index < shared;
    return { name, slice: isShared ? (before[index]?.slice ?? '') : '', isTyped: false };
  });
}

function readId(id: string): readonly Omit<Step, 'isTyped'>[] {
  return id.split('.').map((step) => {
    const colon = step.indexOf(':');
    return colon === -1
      ? { name: step, slice: '' }
      : { name: step.slice(0, colon), slice: step.slice(colon + 1) };
  });
}

/** `value[x]` in an id may be `valueQuantity` in the path. */
function isSameStep(idName: string, pathName = ''): boolean {
  return idName === pathName || (idName.endsWith('[x]') && pathName.startsWith(idName.slice(0, -3)));
}

function locate(root: ProfileNode, steps: readonly Step[], context: NarrowingContext): ProfileNode {
  const [first, ...rest] = steps;
  if (first?.name !== root.forms[0]?.type) {
    const sentence = `The element does not belong to the type ${String(root.forms[0]?.type)}.`;
    throw new DefinitionFault(context.definition, steps.map(({ name }) => name).join('.'), sentence);
  }
  return rest.reduce((node, step) => stepInto(node, step, context), root);
}

function stepInto(node: ProfileNode, { name, slice, isTyped }: Step, context: NarrowingContext): ProfileNode {
  const { base, form } = findElement(node, name, context);
  const child = childOf(node, base);
  const sliceName = slice === '' && form !== undefined ? name : slice;
  if (sliceName === '') return child;
  const sliceForm = form ?? typeSlice(child, sliceName);
  if (sliceForm !== undefined && (isTyped || form !== undefined)) narrowToNamed(child, sliceForm, context);
  return sliceOf(child, sliceName, sliceForm);
}

/**
 * A choice that a path names by one of its types, without slicing it, has no other than the types so named (R4's own
 * snapshots of the vital signs read `Observation.valueQuantity` so).
 */
function narrowToNamed(
  choice: ProfileNode,
  form: ElementForm,
  { definition, named }: NarrowingContext,
): void {
  if (choice.slicing !== undefined && choice.slicing !== TYPE_SLICING) return;
  const known = named.get(choice) ?? { before: choice.forms, forms: new Set() };
  named.set(choice, known);
  if (!known.before.some(({ type }) => type === form.type)) {
    throw new DefinitionFault(definition, choice.id, `The type ${form.type} is not allowed here.`);
  }
  known.forms.add(form.type);
  if (choice.types === undefined) choice.forms = known.before.filter(({ type }) => known.forms.has(type));
}

/** The element of a name; with the form when the name is that of one type of a choice (`valueQuantity`). */
function findElement(
  node: ProfileNode,
  name: string,
  { elements, definition }: TreeContext,
): { base: BaseElement; form?: ElementForm } {
  for (const { content } of node.forms) {
    const known = elements.elementsOf(content);
    const base = known.get(name) ?? known.get(`${name}[x]`);
    if (base !== undefined) return { base };
    const member = elements.membersOf(content).get(name);
    if (member !== undefined && !member.isTwin) return { base: member.element, form: member.form };
  }
  throw new DefinitionFault(definition, `${node.id}.${name}`, 'The base type has no such element.');
}

function childOf(node: ProfileNode, base: BaseElement): ProfileNode {
  const known = node.children.get(base.label);
  if (known !== undefined) return known;
  const child = newNode(`${node.id}.${base.label}`, '', base, base.forms);
  node.children.set(base.label, child);
  return child;
}

/** The form that a slice is named for: `valueQuantity` of `value[x]`. */
const typeSlice = ({ base }: ProfileNode, sliceName: string): ElementForm | undefined =>
  base?.label === base?.name ? undefined : base?.forms.find(({ jsonName }) => jsonName === sliceName);

/** Slices of slices are named `outer/inner`. */
function sliceOf(node: ProfileNode, sliceName: string, form: ElementForm | undefined): ProfileNode {
  const slash = sliceName.lastIndexOf('/');
  const outer = slash === -1 ? node : sliceOf(node, sliceName.slice(0, slash), undefined);
  const known = outer.slices.get(sliceName);
  if (known !== undefined) return known;
  const slice = newNode(
    `${node.id}:${sliceName}`,
    sliceName,
    node.base,
    form === undefined ? outer.forms : [form],
  );
  outer.slices.set(sliceName, slice);
  if (form !== undefined) node.slicing ??= TYPE_SLICING;
  return slice;
}

/** A choice named by one of its types is sliced by type (R4 profiling, "Constraining choice elements"). */
const TYPE_SLICING: ElementDefinitionSlicing = {
  discriminator: [{ type: 'type', path: '$this' }],
  rules: 'open',
};

function newNode(
  id: string,
  sliceName: string,
  base: BaseElement | undefined,
  forms: readonly ElementForm[],
): ProfileNode {
  return {
    id,
    sliceName,
    base,
    forms,
    children: new Map(),
    slices: new Map(),
    bindings: new Set(),
    maxValueSets: new Set(),
    constraints: new Map(),
  };
}

function narrowNode(node: ProfileNode, element: ElementDefinition, context: TreeContext): void {
  narrowCardinality(node, element, context);
  narrowTypes(node, element, context);
  narrowValues(node, element, context);
  if (element.slicing !== undefined) node.slicing = { ...node.slicing, ...element.slicing };
  if (element.maxLength !== undefined) node.maxLength = countOf(element.maxLength);
  if (element.isModifier !== undefined) node.isModifier = element.isModifier;
  if (element.contentReference !== undefined) node.contentReference = element.contentReference;
  narrowBinding(node, element);
  for (const constraint of element.constraint ?? []) node.constraints.set(constraint.key, constraint);
}

function narrowCardinality(node: ProfileNode, { min, max }: ElementDefinition, context: TreeContext): void {
  if (min !== undefined) node.min = countOf(min);
  if (max !== undefined) node.max = max === '*' ? '*' : Number(max);
  const { base, id } = node;
  if (base === undefined) return;
  const least = node.min ?? (node.sliceName === '' ? base.row.min : 0);
  const most = node.max ?? base.row.max;
  const isNarrower =
    (node.sliceName !== '' || least >= base.row.min) && isAtMost(most, base.row.max) && isAtMost(least, most);
  if (isNarrower) return;
  const sentence = `${String(least)}..${String(most)} is outside of the base's ${String(base.row.min)}..${String(base.row.max)}.`;
  throw new DefinitionFault(context.definition, id, sentence);
}

const isAtMost = (count: number | '*', limit: number | '*'): boolean =>
  limit === '*' || (count !== '*' && count <= limit);

function narrowTypes(node: ProfileNode, { type }: ElementDefinition, context: TreeContext): void {
  if (type === undefined || node.base === undefined) return;
  const allowed = type.flatMap((each) => allowedType(node, each, context));
  if (allowed.length === 0) return;
  node.types = allowed;
  node.forms = allowed.map(({ form }) => form);
}

/** None for the types that the standard has outside of FHIR (`Element.id`, `Extension.url`). */
function allowedType(
  node: ProfileNode,
  type: ElementDefinitionType,
  { elements, definition }: TreeContext,
): readonly AllowedType[] {
  const name = type.code.startsWith(STRUCTURES) ? type.code.slice(STRUCTURES.length) : type.code;
  if (name.startsWith(SYSTEM_TYPES)) return [];
  const form = formOf(node, name, elements);
  if (form === undefined) {
    const allowed = node.base?.forms.map((each) => each.type).join(', ') ?? '';
    throw new DefinitionFault(
      definition,
      node.id,
      `The type ${name} is not allowed here; the base has ${allowed}.`,
    );
  }
  const { profile = [], targetProfile = [], aggregation = [], versioning = 'either' } = type;
  const isNarrowed = elements.isOfType(name, form.type) && form.type !== name && elements.isDefined(name);
  const profiles = isNarrowed && profile.length === 0 ? [`${STRUCTURES}${name}`] : profile;
  return [{ form, profiles, targets: targetProfile, aggregation, versioning }];
}

/** The form of a type that the base has, of a resource type where it has any, or of the wider type that JSON tells. */
function formOf({ base }: ProfileNode, name: string, elements: BaseElements): ElementForm | undefined {
  const same = base?.forms.find(({ type }) => type === name);
  if (same !== undefined) return same;
  const any = base?.forms.find(({ type }) => type === 'Resource' && elements.isOfType(name, type));
  if (any !== undefined) return { ...any, type: name, content: name };
  const hasElements = name === 'BackboneElement' || name === 'Element';
  return base?.forms.find(
    ({ type, content }) => (hasElements && content.includes('.')) || elements.isOfType(name, type),
  );
}

function narrowValues(node: ProfileNode, element: ElementDefinition, context: TreeContext): void {
  for (const [key, value] of Object.entries(element) as [string, unknown][]) {
    const match = /^(fixed|pattern|minValue|maxValue)([A-Z].*)$/.exec(key);
    if (match === null) continue;
    const facet = match[1] as 'fixed' | 'pattern' | 'minValue' | 'maxValue';
    node[facet] = givenValue(node, key, match[2] ?? '', value, context);
  }
}

function givenValue(
  node: ProfileNode,
  key: string,
  suffix: string,
  value: unknown,
  { definition, elements }: TreeContext,
): GivenValue {
  const form = node.forms.find(({ type }) => capitalized(type) === suffix) ?? idForm(node, suffix, elements);
  if (form === undefined) {
    const allowed = node.forms.map(({ type }) => type).join(', ');
    throw new DefinitionFault(
      definition,
      node.id,
      `${key} is of no type of the element, which has ${allowed}.`,
    );
  }
  if (form.isPrimitive ? !isPrimitiveOf(form.type, value) : !isJsonObject(value)) {
    throw new DefinitionFault(definition, node.id, `${key} holds no ${form.type}.`);
  }
  return { type: form.type, value };
}

/** `id` and `url` have types outside of FHIR in the standard, so a text of any type is taken for them. */
function idForm(node: ProfileNode, suffix: string, elements: BaseElements): ElementForm | undefined {
  const isLoose = node.base?.name === 'id' || node.base?.path === 'Extension.url';
  const type = suffix.charAt(0).toLowerCase() + suffix.slice(1);
  return isLoose && elements.formOf(type).isPrimitive ? node.forms[0] : undefined;
}

function isPrimitiveOf(type: string, value: unknown): boolean {
  const rule = primitiveRule(type, type);
  const text = primitiveText(value, rule.json);
  return text !== undefined && rule.accepts(text);
}

/** The value set of a required binding, and the widest one that a looser binding allows. */
function narrowBinding(node: ProfileNode, { binding }: ElementDefinition): void {
  if (binding === undefined) return;
  const { strength, valueSet } = binding;
  if (strength === 'required' && valueSet !== undefined) node.bindings.add(valueSet);
  for (const { url, valueCanonical, valueUri } of binding.extension ?? []) {
    const widest = valueCanonical ?? valueUri;
    if (url === MAX_VALUE_SET && widest !== undefined) node.maxValueSets.add(widest);
  }
}
