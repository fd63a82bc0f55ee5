import type {
  ConstraintRow,
  Definitions,
  ElementRow,
  TypeDefinition,
  ValueSetCodes,
} from '../definitions/index.js';
import { checkMaxValueSet, checkRequiredBinding, compileBinding, type RequiredBinding } from './bindings.js';
import { compileInvariant } from './fhirpath-invariants.js';
import { NATIVE_INVARIANTS } from './invariants.js';
import { findNarrativeFaults } from './narrative.js';
import { type PrimitiveRule, primitiveRule, primitiveText } from './primitives.js';
import { PROSE_RULES, type ProseRule } from './prose-rules.js';
import { compileReferenceTargets } from './reference-targets.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

/** Checks a value at the walk's place; items of an array one by one. */
type ValueCheck = (value: unknown, walk: Walk) => void;

/** Checks a member; `parent` also holds its twin (`status` and `_status`). */
type MemberCheck = (value: unknown, parent: JsonObject, walk: Walk) => void;

/** What may stand under one JSON name of an object. */
interface Member {
  /** FHIRPath name: `value` for `valueQuantity` and `_valueString`. */
  readonly name: string;
  /** The JSON name without the underscore; two of one choice must not differ in it. */
  readonly jsonName: string;
  readonly isChoice: boolean;
  readonly check: MemberCheck;
}

/** What an object of one type, or an element that has elements, may and must hold. */
interface Shape {
  /** `Observation`, `Observation.component`, `Quantity`. */
  readonly name: string;
  readonly isResource: boolean;
  readonly members: Map<string, Member>;
  readonly required: { readonly name: string; readonly row: ElementRow; readonly jsonNames: string[] }[];
  /** Names of choices without their `[x]`, with their types. */
  readonly choices: Map<string, readonly string[]>;
  readonly constraints: readonly ConstraintRow[];
  readonly invariants: readonly ValueCheck[];
}

/**
 * The definitions, turned once into a tree of checks. A type's shape is made when it is first reached, and shared, so that
 * types may hold themselves (an extension holds extensions).
 */
export class Structures {
  readonly #types: ReadonlyMap<string, TypeDefinition>;
  readonly #valueSets: ReadonlyMap<string, ValueSetCodes>;
  readonly #resourceTypes: ReadonlySet<string>;
  readonly #knownModifiers: ReadonlySet<string>;
  readonly #bindings = new Map<string, RequiredBinding>();
  readonly #shapes = new Map<string, Shape>();
  /** The resource types that can be checked. */
  readonly defined: readonly string[];

  /** `knownModifiers`: URLs of the extensions whose meaning is known. */
  constructor({ types, valueSets, resourceTypes }: Definitions, knownModifiers: Iterable<string> = []) {
    this.#types = new Map(types.map((type) => [type.name, type]));
    this.#valueSets = new Map(valueSets.map((set) => [set.url, set]));
    this.#resourceTypes = new Set(resourceTypes);
    this.#knownModifiers = new Set(knownModifiers);
    this.defined = types.map(({ name }) => name).filter((name) => this.#resourceTypes.has(name));
  }

  /** Whether R4 has a resource type of this name. */
  isResourceType(name: string): boolean {
    return this.#resourceTypes.has(name);
  }

  #isDefined(name: string): boolean {
    return this.#resourceTypes.has(name) && this.#types.has(name);
  }

  /** Checks a resource of a defined type with all it contains; the walk has entered it. */
  checkResource(type: string, resource: JsonObject, walk: Walk): void {
    checkObject(this.#shapeOf(type), resource, walk);
  }

  /** Makes the check of a resource within another one, of a type that may not be defined here. */
  #innerResourceCheck(isContained: boolean): ValueCheck {
    return (value, walk) => {
      if (!isJsonObject(value)) {
        reportShape(value, 'an object', walk);
        return;
      }
      const type = value['resourceType'];
      if (typeof type === 'string' && this.#isDefined(type)) {
        walk.within(value, isContained, () => void checkObject(this.#shapeOf(type), value, walk));
      } else if (typeof type === 'string' && this.isResourceType(type)) reportUnchecked(type, walk);
      else reportResourceType(type, walk);
    };
  }

  /** The shape of a type (`Quantity`) or of an element with elements (`Observation.component`). */
  #shapeOf(path: string): Shape {
    const known = this.#shapes.get(path);
    if (known !== undefined) return known;
    const [typeName = path, ...steps] = path.split('.');
    const type = this.#typeOf(typeName);
    const isResource = steps.length === 0 && type.kind === 'resource';
    const constraints = this.#constraintsOf(type, steps.join('.'));
    const shape: Shape = {
      name: path,
      isResource,
      members: new Map(),
      required: [],
      choices: new Map(),
      constraints,
      invariants: [
        ...constraints.map((constraint) => compileConstraint(constraint, path)),
        ...this.#proseRulesOf(type, steps).map(onObject),
      ],
    };
    this.#shapes.set(path, shape);
    if (isResource) shape.members.set('resourceType', RESOURCE_TYPE);
    for (const { owner, row } of this.#rowsOf(type, steps.join('.'))) this.#addElement(shape, owner, row);
    return shape;
  }

  #typeOf(name: string): TypeDefinition {
    const type = this.#types.get(name);
    if (type === undefined) throw new Error(`the definitions lack the type ${name}`);
    return type;
  }

  /** A type with those it is derived from, nearest first. */
  #lineage(type: TypeDefinition): readonly TypeDefinition[] {
    return type.base === undefined ? [type] : [type, ...this.#lineage(this.#typeOf(type.base))];
  }

  /** The elements of a type, or of an element of it, with the inherited ones. */
  #rowsOf(type: TypeDefinition, parent: string): readonly { owner: string; row: ElementRow }[] {
    const own = type.elements.filter(({ path }) => parentOf(path) === parent);
    const base = parent === '' ? type.base : type.elements.find(({ path }) => path === parent)?.types[0];
    const inherited = base === undefined ? [] : this.#rowsOf(this.#typeOf(base), '');
    return [...inherited, ...own.map((row) => ({ owner: type.name, row }))];
  }

  /** The invariants that stand on a type, inherited ones too, or on an element of it; those of structure left out. */
  #constraintsOf(type: TypeDefinition, path: string): readonly ConstraintRow[] {
    const types = path === '' ? this.#lineage(type) : [type];
    return types
      .flatMap(({ constraints = [] }) => constraints)
      .filter((constraint) => constraint.path === path && !STRUCTURAL.has(constraint.key));
  }

  #proseRulesOf(type: TypeDefinition, steps: readonly string[]): readonly ProseRule[] {
    const names =
      steps.length === 0 ? this.#lineage(type).map(({ name }) => name) : [[type.name, ...steps].join('.')];
    return names.flatMap((name) => PROSE_RULES.get(name) ?? []);
  }

  #bindingOf(url: string | undefined): RequiredBinding | undefined {
    const valueSet = url === undefined ? undefined : this.#valueSets.get(url);
    if (valueSet === undefined) return undefined;
    const known = this.#bindings.get(valueSet.url) ?? compileBinding(valueSet);
    this.#bindings.set(valueSet.url, known);
    return known;
  }

  #addElement(shape: Shape, owner: string, row: ElementRow): void {
    const last = lastStep(row.path);
    const isChoice = last.endsWith('[x]');
    const name = isChoice ? last.slice(0, -'[x]'.length) : last;
    const jsonNames = (row.types.length === 0 ? [''] : row.types).map((type) => {
      const jsonName = isChoice ? name + type.charAt(0).toUpperCase() + type.slice(1) : name;
      return this.#addMember(shape, owner, row, type, { name, jsonName, isChoice });
    });
    if (isChoice) shape.choices.set(name, row.types);
    if (row.min > 0) shape.required.push({ name, row, jsonNames: jsonNames.flat() });
  }

  /** Adds an element under the JSON names it has for one of its types; a primitive has a twin for id and extensions. */
  #addMember(
    shape: Shape,
    owner: string,
    row: ElementRow,
    type: string,
    named: Omit<Member, 'check'>,
  ): readonly string[] {
    const { name, jsonName } = named;
    const repeats = row.max !== 1;
    const primitive =
      this.#types.get(type)?.kind === 'primitive-type'
        ? primitiveRule(type, `${owner}.${row.path}`)
        : undefined;
    if (primitive === undefined) {
      const check = this.#complexCheck(owner, row, type);
      shape.members.set(jsonName, { ...named, check: repeats ? items(name, check) : single(name, check) });
      return [jsonName];
    }
    const check = this.#primitiveCheck(primitive, owner, type, row);
    if (NO_ELEMENTS.has(`${owner}.${row.path}`)) {
      shape.members.set(jsonName, { ...named, check: single(name, check) });
      return [jsonName];
    }
    const element = this.#shapeOf('Element');
    const twin = `_${jsonName}`;
    const value = repeats ? primitiveItems(name, twin, check) : single(name, check);
    shape.members.set(jsonName, { ...named, check: value });
    const twinCheck = repeats ? twinItems(name, jsonName, element) : twinSingle(name, jsonName, element);
    shape.members.set(twin, { ...named, check: twinCheck });
    return [jsonName, twin];
  }

  #primitiveCheck(rule: PrimitiveRule, owner: string, type: string, row: ElementRow): ValueCheck {
    const checks = this.#primitiveExtras(owner, type, row);
    return (value, walk) => {
      if (!checkPrimitive(rule, type, value, walk)) return;
      for (const check of checks) check(value, walk);
    };
  }

  /** What an element asks of a primitive value beyond its type. */
  #primitiveExtras(owner: string, type: string, row: ElementRow): readonly ValueCheck[] {
    const { maxLength } = row;
    const invariants = this.#constraintsOf(this.#typeOf(owner), row.path);
    return [
      ...this.#extraChecks(row, type),
      ...(type === 'xhtml' ? [checkNarrative] : []),
      ...(maxLength === undefined ? [] : [maxLengthCheck(maxLength)]),
      ...invariants.map((constraint) => compileConstraint(constraint, type)),
    ];
  }

  #complexCheck(owner: string, row: ElementRow, type: string): ValueCheck {
    if (type === 'Resource') return this.#innerResourceCheck(`${owner}.${row.path}` === CONTAINED);
    const shape = this.#shapeOf(this.#shapePath(owner, row, type));
    const extras = [...this.#extraChecks(row, type), ...this.#ownInvariants(shape, owner, row)];
    if (extras.length === 0) return (value, walk) => void checkObject(shape, value, walk);
    return (value, walk) => {
      if (!checkObject(shape, value, walk)) return;
      for (const check of extras) check(value, walk);
    };
  }

  #shapePath(owner: string, row: ElementRow, type: string): string {
    if (row.content !== undefined) return `${owner}.${row.content}`;
    const hasElements = this.#typeOf(owner).elements.some(({ path }) => parentOf(path) === row.path);
    return hasElements ? `${owner}.${row.path}` : type;
  }

  /** What this element asks beyond its type: reference targets and bound codes. */
  #extraChecks({ path, targets, binding, maxValueSet }: ElementRow, type: string): readonly ValueCheck[] {
    const bound = this.#bindingOf(binding);
    const widest = this.#bindingOf(maxValueSet ?? this.#types.get(type)?.maxValueSet);
    return [
      ...(type === 'Reference' ? [onObject(compileReferenceTargets(targets, this.#resourceTypes))] : []),
      ...(lastStep(path) === 'modifierExtension' ? [onObject(modifierCheck(this.#knownModifiers))] : []),
      ...(bound === undefined ? [] : [boundTo(bound, checkRequiredBinding)]),
      ...(widest === undefined ? [] : [boundTo(widest, checkMaxValueSet)]),
    ];
  }

  /** The invariants that stand on this element and on the profile of its type, beyond those of its shape. */
  #ownInvariants(shape: Shape, owner: string, row: ElementRow): readonly ValueCheck[] {
    const profile = row.profile === undefined ? undefined : this.#types.get(row.profile);
    return [
      ...this.#constraintsOf(this.#typeOf(owner), row.path),
      ...(profile === undefined ? [] : this.#constraintsOf(profile, '')),
    ]
      .filter(({ key }) => shape.constraints.every((known) => known.key !== key))
      .map((constraint) => compileConstraint(constraint, shape.name));
  }
}

/** What is a plain string of FHIRPath in the definitions and no element, so that it has neither id nor extensions. */
const NO_ELEMENTS: ReadonlySet<string> = new Set(['Element.id', 'Extension.url']);

/** Where a resource may stand that is part of another one. */
const CONTAINED = 'DomainResource.contained';

/**
 * Invariants that the tree itself holds: ele-1 is what `checkObject` and `checkTwin` ask of every element; txt-1 and txt-2
 * share one expression, so that only `checkNarrative` can tell which is broken.
 */
const STRUCTURAL: ReadonlySet<string> = new Set(['ele-1', 'txt-1', 'txt-2']);

/** Advice on a contained resource is for its container: narrative, most of all, is told once. */
function compileConstraint(constraint: ConstraintRow, base: string): ValueCheck {
  const check = compileInvariant(constraint, { base, natives: NATIVE_INVARIANTS });
  if (constraint.bestPractice !== true) return check;
  return (value, walk) => {
    if (!walk.isContained) check(value, walk);
  };
}

const RESOURCE_TYPE: Member = {
  name: 'resourceType',
  jsonName: 'resourceType',
  isChoice: false,
  check: () => undefined,
};

const parentOf = (path: string): string => path.slice(0, Math.max(path.lastIndexOf('.'), 0));

const lastStep = (path: string): string => path.slice(path.lastIndexOf('.') + 1);

const onObject =
  (check: (value: JsonObject, walk: Walk) => void): ValueCheck =>
  (value, walk) => {
    if (isJsonObject(value)) check(value, walk);
  };

const boundTo =
  (binding: RequiredBinding, check: typeof checkRequiredBinding): ValueCheck =>
  (value, walk) => {
    check(binding, value, walk);
  };

/** Checks an object against its shape; false when it is no object. */
function checkObject(shape: Shape, value: unknown, walk: Walk): value is JsonObject {
  if (!isJsonObject(value)) {
    reportShape(value, 'an object', walk);
    return false;
  }
  const keys = Object.keys(value);
  checkMembers(shape, keys, value, walk);
  checkCardinality(shape, value, walk);
  if (keys.length === 0) reportEmpty('An object', walk);
  else if (!shape.isResource && keys.length === 1 && keys[0] === 'id') reportEle1(walk);
  for (const invariant of shape.invariants) invariant(value, walk);
  return true;
}

/** Each member is an element of the shape, with a value of its type; a choice is made once. */
function checkMembers(shape: Shape, keys: readonly string[], value: JsonObject, walk: Walk): void {
  let chosen: Member[] | undefined;
  for (const key of keys) {
    const item = value[key];
    if (item === undefined) continue;
    const member = shape.members.get(key);
    if (member === undefined) {
      reportUnknown(shape, key, walk);
      continue;
    }
    if (member.isChoice) {
      checkChoice(member, chosen, walk);
      if (chosen === undefined) chosen = [member];
      else chosen.push(member);
    }
    member.check(item, value, walk);
  }
}

/** Choice types (R4 formats, "Choice of Data Types"): only one of value[x]. */
function checkChoice(member: Member, chosen: readonly Member[] | undefined, walk: Walk): void {
  const other = chosen?.find(({ name, jsonName }) => name === member.name && jsonName !== member.jsonName);
  if (other === undefined) return;
  walk.reportAt(member.name, {
    code: 'structure',
    rule: 'choice-type',
    diagnostics: `${member.name}[x] stands twice, as ${other.jsonName} and ${member.jsonName}; it may stand once.`,
    found: [other.jsonName, member.jsonName],
  });
}

/** The lower bound; the upper one of a single element is its JSON shape. */
function checkCardinality(shape: Shape, value: JsonObject, walk: Walk): void {
  for (const { name, row, jsonNames } of shape.required) {
    if (jsonNames.some((jsonName) => value[jsonName] !== undefined)) continue;
    walk.reportAt(name, {
      code: 'required',
      rule: 'cardinality',
      diagnostics: `${shape.name}.${name} is missing; it must be there (${String(row.min)}..${String(row.max)}).`,
      allowed: `${String(row.min)}..${String(row.max)}`,
    });
  }
}

/** A single member. */
function single(name: string, check: ValueCheck): MemberCheck {
  return (value, _parent, walk) => {
    if (!walk.enter(name)) return;
    if (Array.isArray(value)) {
      reportShape(value, 'a single value and no array', walk);
      eachItem(value, check, walk);
    } else if (value === null) reportNull(walk);
    else check(value, walk);
    walk.leave();
  };
}

/** A repeating member of a complex type: an array, even of one. */
function items(name: string, check: ValueCheck): MemberCheck {
  return (value, _parent, walk) => {
    if (!walk.enter(name)) return;
    if (isItems(value, walk)) eachItem(value, check, walk);
    else if (isJsonObject(value)) check(value, walk);
    walk.leave();
  };
}

/** A repeating primitive: null where the twin array holds something (R4 json, "Representing Primitive types"). */
function primitiveItems(name: string, twin: string, check: ValueCheck): MemberCheck {
  return (value, parent, walk) => {
    if (!walk.enter(name)) return;
    const twins = parent[twin];
    if (isItems(value, walk)) {
      for (const [index, item] of value.entries()) {
        const isPadding = item === null && Array.isArray(twins) && isJsonObject(twins[index]);
        if (!isPadding) checkItem(index, item, check, walk);
      }
    } else if (value !== null) check(value, walk);
    walk.leave();
  };
}

/** `_name` of a single primitive: its id and extensions. */
function twinSingle(name: string, jsonName: string, element: Shape): MemberCheck {
  return (value, parent, walk) => {
    if (!walk.enter(name)) return;
    if (value === null) reportNull(walk);
    else checkTwin(element, value, isPresent(parent[jsonName]), walk);
    walk.leave();
  };
}

/** `_name` of a repeating primitive: item by item beside the values, null where there is nothing to add. */
function twinItems(name: string, jsonName: string, element: Shape): MemberCheck {
  return (value, parent, walk) => {
    if (!walk.enter(name)) return;
    const values = parent[jsonName];
    if (isItems(value, walk)) {
      if (Array.isArray(values) && values.length !== value.length) reportPadding(walk);
      for (const [index, item] of value.entries()) {
        const hasValue = Array.isArray(values) && isPresent(values[index]);
        if (item === null && hasValue) continue;
        checkItem(
          index,
          item,
          (twin) => {
            checkTwin(element, twin, hasValue, walk);
          },
          walk,
        );
      }
    }
    walk.leave();
  };
}

/** The id and extensions of a primitive; ele-1: without a value there must be an extension. */
function checkTwin(element: Shape, twin: unknown, hasValue: boolean, walk: Walk): void {
  if (!isJsonObject(twin)) {
    reportShape(twin, 'an object', walk);
    return;
  }
  const keys = Object.keys(twin);
  checkMembers(element, keys, twin, walk);
  if (keys.length === 0) reportEmpty('An object', walk);
  else if (!hasValue && twin['extension'] === undefined) reportEle1(walk);
}

function eachItem(value: readonly unknown[], check: ValueCheck, walk: Walk): void {
  for (const [index, item] of value.entries()) checkItem(index, item, check, walk);
}

function checkItem(index: number, item: unknown, check: ValueCheck, walk: Walk): void {
  if (!walk.enter(index)) return;
  if (item === null) reportNull(walk);
  else check(item, walk);
  walk.leave();
}

const isPresent = (value: unknown): boolean => value !== undefined && value !== null;

/** Whether the value is an array that is not empty; reports what it is else. */
function isItems(value: unknown, walk: Walk): value is readonly unknown[] {
  if (!Array.isArray(value)) {
    reportShape(value, 'an array, even for one', walk);
    return false;
  }
  if (value.length === 0) reportEmpty('An array', walk);
  return true;
}

/** R4 narrative: what may stand in `Narrative.div`. */
function checkNarrative(html: unknown, walk: Walk): void {
  if (typeof html !== 'string') return;
  for (const fault of findNarrativeFaults(html)) walk.report({ code: 'invariant', ...fault });
}

/** R4 extensibility, "Modifier Extensions": who does not know one must not read on as if it were not there. */
const modifierCheck =
  (known: ReadonlySet<string>) =>
  ({ url }: JsonObject, walk: Walk): void => {
    if (typeof url !== 'string' || known.has(url)) return;
    const diagnostics = `The modifier extension ${url} is not known here; it may change the meaning of what holds it.`;
    walk.report({
      severity: 'warning',
      code: 'extension',
      rule: 'modifier-extension',
      diagnostics,
      found: url,
    });
  };

/** Most characters of a string (R4 ElementDefinition.maxLength); one of two UTF-16 units counts once. */
function maxLengthCheck(maxLength: number): ValueCheck {
  return (value, walk) => {
    if (typeof value !== 'string' || value.length <= maxLength) return;
    const { length } = Array.from(value);
    if (length <= maxLength) return;
    walk.report({
      code: 'too-long',
      rule: 'max-length',
      diagnostics: `The text has ${String(length)} characters; it may have ${String(maxLength)}.`,
      found: length,
      allowed: maxLength,
    });
  };
}

/** Primitive types (R4 datatypes): how JSON writes the type, and which values it has. */
function checkPrimitive(rule: PrimitiveRule, type: string, value: unknown, walk: Walk): boolean {
  const text = primitiveText(value, rule.json);
  if (text === undefined) {
    reportShape(value, `a JSON ${rule.json}`, walk);
    return false;
  }
  if (rule.accepts(text)) return true;
  walk.report({
    code: 'value',
    rule: 'primitive-type',
    diagnostics: `${quote(text)} is no ${type}; it must be ${rule.form}.`,
    found: text,
    allowed: rule.form,
  });
  return false;
}

const quote = (text: string): string => `"${text.length <= 100 ? text : `${text.slice(0, 100)}…`}"`;

function reportShape(found: unknown, allowed: string, walk: Walk): void {
  const shown = `${jsonTypeOf(found)} stands here`;
  walk.report({
    code: 'structure',
    rule: 'json-type',
    diagnostics: `${shown}; it must be ${allowed}.`,
    found: jsonTypeOf(found),
    allowed,
  });
}

function jsonTypeOf(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'an array';
  if (isJsonObject(value)) return 'an object';
  return typeof value === 'object' ? 'a number' : `a ${typeof value}`;
}

function reportNull(walk: Walk): void {
  const diagnostics = 'null stands here; an element without a value is left out.';
  walk.report({ code: 'structure', rule: 'json-null', diagnostics });
}

function reportEmpty(what: string, walk: Walk): void {
  walk.report({ code: 'structure', rule: 'json-empty', diagnostics: `${what} must not be empty.` });
}

function reportPadding(walk: Walk): void {
  const diagnostics =
    'The array of extensions has another length than that of the values; null fills the gaps.';
  walk.report({ code: 'structure', rule: 'json-padding', diagnostics });
}

function reportEle1(walk: Walk): void {
  const diagnostics = 'An element must have a value or elements, not only an id.';
  walk.report({ code: 'invariant', rule: 'ele-1', diagnostics });
}

function reportUnknown(shape: Shape, key: string, walk: Walk): void {
  const choice = [...shape.choices].find(
    ([name]) => key.replace(/^_/, '').startsWith(name) && !key.endsWith(name),
  );
  if (choice === undefined) {
    const diagnostics = `${shape.name} has no element ${quote(key)}.`;
    walk.reportAt(key, { code: 'structure', rule: 'unknown-element', diagnostics, found: key });
    return;
  }
  const [name, types] = choice;
  walk.reportAt(name, {
    code: 'structure',
    rule: 'choice-type',
    diagnostics: `${quote(key)} is no form of ${shape.name}.${name}[x]; its types are ${types.join(', ')}.`,
    found: key,
    allowed: types,
  });
}

function reportResourceType(found: unknown, walk: Walk): void {
  const diagnostics = 'The resourceType is missing or is no resource type of R4.';
  walk.report({ code: 'structure', rule: 'resource-type', diagnostics, found });
}

function reportUnchecked(type: string, walk: Walk): void {
  const diagnostics = `What is in this resource was not checked: resources of type ${type} are not defined here.`;
  walk.report({ severity: 'information', code: 'not-supported', rule: 'resource-type', diagnostics });
}
