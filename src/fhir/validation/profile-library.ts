import type { CodeSystem, ElementDefinitionConstraint, StructureDefinition, ValueSet } from 'fhir/r4.js';
import type { Definitions } from '../definitions/index.js';
import { BaseElements } from './base-elements.js';
import { compileBinding, type RequiredBinding } from './bindings.js';
import { CanonicalIndex, urlOf } from './canonical-index.js';
import { compileContextInvariant, compileContextPath } from './context-language.js';
import { DefinitionFault, naming } from './definition-fault.js';
import { compileExtension, type ExtensionRule } from './extension-definitions.js';
import { compileInvariant, findExpressionFault, type InvariantCheck } from './fhirpath-invariants.js';
import type { NativeInvariant } from './invariants.js';
import { type Occurrence, type OccurrenceCheck, typeOf } from './occurrences.js';
import { compileNode } from './overlay.js';
import type { OverlayContext } from './overlay-context.js';
import { copyTree, narrowTree, plainTree, type ProfileNode, STRUCTURES } from './profile-tree.js';
import { ValueSets } from './value-sets.js';
import { isJsonObject, type Walk } from './walk.js';

/** A definition that profiles are made of. */
export type ConformanceResource = StructureDefinition | ValueSet | CodeSystem;

/** A profile, ready to be held against a value of its type. */
export interface Profile {
  readonly url: string;
  readonly type: string;
  /** Canonical URLs of what it is derived from, over whatever steps; it has all of their rules. */
  readonly ancestors: ReadonlySet<string>;
  readonly check: OccurrenceCheck;
}

/**
 * The given profiles and those that the standard demands, by canonical URL. The given ones are compiled at once, so that
 * a faulty one is known at the start; the standard's at first use.
 */
export class ProfileLibrary {
  readonly elements: BaseElements;
  readonly #given: CanonicalIndex<StructureDefinition>;
  readonly #standard: CanonicalIndex<StructureDefinition>;
  readonly #natives: readonly NativeInvariant[];
  readonly #valueSets: ValueSets;
  readonly #bindings = new Map<string, RequiredBinding | undefined>();
  readonly #trees = new Map<StructureDefinition, ProfileNode>();
  readonly #underWay = new Set<StructureDefinition>();
  readonly #profiles = new Map<StructureDefinition, Profile>();
  readonly #extensions = new Map<unknown, ExtensionRule>();
  readonly #remarks = new Set<string>();
  readonly #soundExpressions = new Set<string>();

  constructor(
    conformance: readonly ConformanceResource[],
    definitions: Definitions,
    natives: readonly NativeInvariant[],
  ) {
    this.elements = new BaseElements(definitions);
    this.#natives = natives;
    const structures = conformance.filter((each) => each.resourceType === 'StructureDefinition');
    this.#given = new CanonicalIndex(structures.filter(isProfile));
    this.#standard = new CanonicalIndex(definitions.profiles);
    this.#valueSets = new ValueSets(
      conformance.filter((each) => each.resourceType === 'ValueSet'),
      conformance.filter((each) => each.resourceType === 'CodeSystem'),
      definitions.valueSets,
    );
    for (const { url } of structures.filter((each) => !isProfile(each))) {
      this.#remarks.add(`${url} defines a type and no profile; it is not used.`);
    }
    this.#valueSets.workOutAll();
    for (const definition of this.#given.all) {
      naming(definition.url, () => {
        this.#compile(definition);
      });
    }
  }

  /** Canonical URLs, without versions, of the profiles that can be claimed. */
  get urls(): readonly string[] {
    return [...new Set([...this.#given.all, ...this.#standard.all].map(({ url }) => url))];
  }

  /** What of the given definitions is not checked, as sentences. */
  get remarks(): readonly string[] {
    return [...this.#remarks, ...this.#valueSets.remarks];
  }

  /** A profile by its canonical URL, with `|version` or without. */
  find(canonical: string): Profile | undefined {
    const definition = this.#find(canonical);
    return definition === undefined ? undefined : this.#profileOf(definition);
  }

  /** The rule of an extension that is defined here, by its url. */
  readonly findExtension = (url: unknown): ExtensionRule | undefined => this.#extensions.get(url);

  #find(canonical: string): StructureDefinition | undefined {
    return this.#given.find(canonical) ?? this.#standard.find(canonical);
  }

  #compile(definition: StructureDefinition): void {
    const profile = this.#profileOf(definition);
    if (definition.type === 'Extension') this.#addExtension(definition, profile);
  }

  #addExtension(definition: StructureDefinition, { check }: Profile): void {
    const tree = this.#treeOf(definition);
    const language = {
      compileContext: readable(definition, compileContextPath),
      compileInvariant: readable(definition, compileContextInvariant),
    };
    const rule = compileExtension(definition, tree, check, this.elements, language);
    const fixed = tree.children.get('url')?.fixed?.value;
    this.#extensions.set(typeof fixed === 'string' ? fixed : urlOf(definition.url), rule);
  }

  #profileOf(definition: StructureDefinition): Profile {
    const known = this.#profiles.get(definition);
    if (known !== undefined) return known;
    const { url, type, title, name } = definition;
    const check = named(
      compileNode(this.#treeOf(definition), this.#contextOf(definition)),
      url,
      title ?? name,
    );
    const profile = {
      url,
      type,
      ancestors: new Set(this.#ancestorsOf(definition)),
      check,
    };
    this.#profiles.set(definition, profile);
    return profile;
  }

  #ancestorsOf({ baseDefinition = '' }: StructureDefinition): readonly string[] {
    const base = this.#find(baseDefinition);
    return [urlOf(baseDefinition), ...(base === undefined ? [] : this.#ancestorsOf(base))];
  }

  #treeOf(definition: StructureDefinition): ProfileNode {
    const known = this.#trees.get(definition);
    if (known !== undefined) return known;
    if (this.#underWay.has(definition)) {
      throw new DefinitionFault(definition.url, '', 'The profile is derived from itself.');
    }
    this.#underWay.add(definition);
    const tree = this.#baseTree(definition);
    narrowTree(tree, definition, { elements: this.elements, definition: definition.url });
    this.#underWay.delete(definition);
    this.#trees.set(definition, tree);
    return tree;
  }

  /** What a profile starts from: its type, when it has a snapshot or is derived from that, or another profile. */
  #baseTree({ url, type, snapshot, baseDefinition = '' }: StructureDefinition): ProfileNode {
    if (!this.elements.isDefined(type)) throw new DefinitionFault(url, '', `The type ${type} is not known.`);
    const base = this.#find(baseDefinition);
    if (base === undefined && urlOf(baseDefinition) !== `${STRUCTURES}${type}`) {
      throw new DefinitionFault(
        url,
        '',
        `The base definition ${baseDefinition} is not known, or is of another type.`,
      );
    }
    if (base !== undefined && base.type !== type) {
      throw new DefinitionFault(url, '', `The profile is of ${type}, its base definition of ${base.type}.`);
    }
    const plain = plainTree(this.elements.formOf(type));
    return base === undefined || snapshot !== undefined ? plain : copyTree(this.#treeOf(base));
  }

  #contextOf(definition: StructureDefinition): OverlayContext {
    return {
      elements: this.elements,
      definition: definition.url,
      root: this.#treeOf(definition),
      findBinding: this.#findBinding,
      findTree: (profile) => {
        const found = this.#find(profile);
        return found === undefined ? undefined : this.#treeOf(found);
      },
      findProfile: (profile, form) => this.#findCheck(profile, form, definition),
      typeOfProfile: (profile) => this.#typeOf(profile),
      compileConstraint: (constraint, node) => this.#constraintCheck(constraint, node, definition),
    };
  }

  readonly #findBinding = (valueSet: string): RequiredBinding | undefined => {
    if (!this.#bindings.has(valueSet)) {
      const codes = this.#valueSets.find(valueSet);
      this.#bindings.set(valueSet, codes === undefined ? undefined : compileBinding(codes));
    }
    return this.#bindings.get(valueSet);
  };

  #typeOf(profile: string): string | undefined {
    const standard = urlOf(profile).startsWith(STRUCTURES) ? urlOf(profile).slice(STRUCTURES.length) : '';
    if (this.elements.isDefined(standard) || this.elements.isResourceType(standard)) return standard;
    return this.#find(profile)?.type;
  }

  /** Looked up at the first value, since profiles may name each other. */
  #findCheck(profile: string, form: string, owner: StructureDefinition): OccurrenceCheck | undefined {
    const standard = this.#standardCheck(profile, form);
    if (standard !== undefined) return standard;
    const definition = this.#find(profile);
    if (definition === undefined) {
      this.#remarks.add(`${owner.url} names the profile ${profile}, which is not known and not checked.`);
      return undefined;
    }
    // Extensions are checked by their url wherever they stand.
    if (definition.type === 'Extension') return NOTHING_MORE;
    return (occurrence, walk) => {
      this.#profileOf(definition).check(occurrence, walk);
    };
  }

  /** The standard's own types that narrow others: SimpleQuantity, Age. */
  #standardCheck(profile: string, form: string): OccurrenceCheck | undefined {
    const name = urlOf(profile).startsWith(STRUCTURES) ? urlOf(profile).slice(STRUCTURES.length) : '';
    if (!this.elements.isDefined(name)) return undefined;
    const checks = this.elements
      .lineage(name)
      .filter((type) => !this.elements.isOfType(form, type))
      .flatMap((type) => this.elements.constraintsOf(type))
      .map((constraint) => compileInvariant(constraint, { base: form, natives: this.#natives }));
    return ({ value }, walk) => {
      for (const check of checks) check(value, walk);
    };
  }

  /** Each expression is read once, since derived profiles repeat it; one that a native stands for is not evaluated. */
  #expressionFault(key: string, expression: string): string | undefined {
    const isNative = this.#natives.some((native) => native.key === key && native.expression === expression);
    if (isNative || this.#soundExpressions.has(expression)) return undefined;
    const fault = findExpressionFault(expression);
    if (fault === undefined) this.#soundExpressions.add(expression);
    return fault;
  }

  /** A constraint may stand on a choice, so that its FHIRPath has another context for each type. */
  #constraintCheck(
    { key, human, severity, expression }: ElementDefinitionConstraint,
    { id }: ProfileNode,
    { url }: StructureDefinition,
  ): OccurrenceCheck {
    if (expression === undefined) {
      this.#remarks.add(`${url} has no FHIRPath for ${key}, which is not checked.`);
      return NOTHING_MORE;
    }
    const fault = this.#expressionFault(key, expression);
    if (fault !== undefined)
      throw new DefinitionFault(url, id, `The expression of ${key} is no FHIRPath: ${fault}`);
    const checks = new Map<string, InvariantCheck>();
    return (occurrence, walk) => {
      const base = contentOf(occurrence);
      let check = checks.get(base);
      if (check === undefined) {
        check = compileInvariant({ key, human, severity, expression }, { base, natives: this.#natives });
        checks.set(base, check);
      }
      const { value, twin } = occurrence;
      if (isJsonObject(twin)) check(value, walk, twin);
      else check(value, walk);
    };
  }
}

const NOTHING_MORE: OccurrenceCheck = () => undefined;

const isProfile = ({ derivation }: StructureDefinition): boolean => derivation === 'constraint';

const contentOf = (occurrence: Occurrence): string =>
  occurrence.form.type === 'Resource' ? typeOf(occurrence) : occurrence.form.content;

function readable<T>(
  definition: StructureDefinition,
  compile: (expression: string) => T,
): (expression: string) => T {
  return (expression) => {
    const fault = findExpressionFault(expression);
    if (fault === undefined) return compile(expression);
    throw new DefinitionFault(definition.url, '', `${expression} is no FHIRPath: ${fault}`);
  };
}

/** Lets each fault say which profile it breaks, and once: slices often repeat the rules of the whole element. */
function named(check: OccurrenceCheck | undefined, profile: string, title: string): OccurrenceCheck {
  if (check === undefined) return NOTHING_MORE;
  return (occurrence: Occurrence, walk: Walk) => {
    const before = walk.issues.length;
    check(occurrence, walk);
    if (walk.issues.length === before) return;
    const told = new Set<string>();
    for (const issue of walk.issues.splice(before)) {
      const key = `${issue.rule} ${issue.expression} ${issue.diagnostics}`;
      if (told.has(key)) continue;
      told.add(key);
      const isNamed = issue.profile !== undefined;
      const diagnostics = `${issue.diagnostics} (Profile: ${title}.)`;
      walk.issues.push(isNamed ? issue : { ...issue, diagnostics, profile });
    }
  };
}
