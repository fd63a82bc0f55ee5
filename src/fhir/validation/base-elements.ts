import type { ConstraintRow, Definitions, ElementRow, TypeDefinition } from '../definitions/index.js';

/** One type that an element may have, and what it is then. */
export interface ElementForm {
  /** `Quantity`, `code`, `BackboneElement`; `Resource` for any resource. */
  readonly type: string;
  /** `valueQuantity`; the same as the element's name when it is no choice. */
  readonly jsonName: string;
  readonly isPrimitive: boolean;
  /** Where its own elements are defined: `Quantity`, `Observation.component`. */
  readonly content: string;
}

/** An element as the standard defines it, which profiles may only narrow. */
export interface BaseElement {
  /** FHIRPath name: `value`. */
  readonly name: string;
  /** Last step of its path: `value[x]`. */
  readonly label: string;
  /** Path from the type that defines it: `DomainResource.text`. */
  readonly path: string;
  readonly row: ElementRow;
  readonly forms: readonly ElementForm[];
  /** Of a choice, the form that each JSON name tells. */
  readonly choices: ReadonlyMap<string, ElementForm> | undefined;
}

/** An element under one of its JSON names; `_status` is the twin of `status`. */
export interface JsonMember {
  readonly element: BaseElement;
  readonly form: ElementForm;
  readonly isTwin: boolean;
}

/** The elements of the standard's types, looked up by where they are defined; each list is made at first use. */
export class BaseElements {
  readonly #types: ReadonlyMap<string, TypeDefinition>;
  readonly #resourceTypes: ReadonlySet<string>;
  readonly #lineages = new Map<string, readonly string[]>();
  readonly #elements = new Map<string, ReadonlyMap<string, BaseElement>>();
  readonly #members = new Map<string, ReadonlyMap<string, JsonMember>>();
  readonly #constraints: ReadonlyMap<string, ReadonlySet<string>>;

  constructor({ types, resourceTypes }: Definitions) {
    this.#types = new Map(types.map((type) => [type.name, type]));
    this.#resourceTypes = new Set(resourceTypes);
    this.#constraints = expressionsByKey(types.flatMap(({ constraints = [] }) => constraints));
  }

  /** Whether the type is defined here. */
  isDefined(type: string): boolean {
    return this.#types.has(type);
  }

  /** Whether R4 has a resource type of this name that is not abstract. */
  isResourceType(name: string): boolean {
    return this.#resourceTypes.has(name);
  }

  /** Whether `name` is the type itself or one that it is derived from. */
  isOfType(type: string, name: string): boolean {
    return (
      type === name || this.lineage(type).includes(name) || (name === 'Resource' && this.isResourceType(type))
    );
  }

  /** The type with those it is derived from, nearest first; none for a type that is not defined here. */
  lineage(type: string): readonly string[] {
    const known = this.#lineages.get(type);
    if (known !== undefined) return known;
    const definition = this.#types.get(type);
    if (definition === undefined) return [];
    const lineage = [type, ...(definition.base === undefined ? [] : this.lineage(definition.base))];
    this.#lineages.set(type, lineage);
    return lineage;
  }

  /** The invariants that the type adds to those of the type it is derived from, on itself. */
  constraintsOf(type: string): readonly ConstraintRow[] {
    return (this.#types.get(type)?.constraints ?? []).filter(({ path }) => path === '');
  }

  /** Whether the standard itself has the invariant, so that the base checks hold it. */
  hasConstraint(key: string, expression: string): boolean {
    return this.#constraints.get(key)?.has(expression) ?? false;
  }

  /** Whether the standard has an invariant of this key, whatever its expression. */
  hasConstraintKey(key: string): boolean {
    return this.#constraints.has(key);
  }

  /** The form of a whole resource or datatype. */
  formOf(type: string): ElementForm {
    const isPrimitive = this.#types.get(type)?.kind === 'primitive-type';
    return { type, jsonName: '', isPrimitive, content: type };
  }

  /** Elements by label of what is defined at `content`; empty when that is not defined here. */
  elementsOf(content: string): ReadonlyMap<string, BaseElement> {
    const known = this.#elements.get(content);
    if (known !== undefined) return known;
    const [typeName = '', ...steps] = content.split('.');
    const elements = new Map(
      this.#rowsOf(typeName, steps.join('.')).map(({ owner, row }) => {
        const element = this.#elementOf(owner, row);
        return [element.label, element];
      }),
    );
    this.#elements.set(content, elements);
    return elements;
  }

  /** What is defined at `content`, by JSON name. */
  membersOf(content: string): ReadonlyMap<string, JsonMember> {
    const known = this.#members.get(content);
    if (known !== undefined) return known;
    const members = new Map(membersOf(this.elementsOf(content).values()));
    this.#members.set(content, members);
    return members;
  }

  #rowsOf(typeName: string, parent: string): readonly { owner: string; row: ElementRow }[] {
    const type = this.#types.get(typeName);
    if (type === undefined) return [];
    const own = type.elements.filter(({ path }) => parentOf(path) === parent);
    const base = parent === '' ? type.base : type.elements.find(({ path }) => path === parent)?.types[0];
    const inherited = base === undefined ? [] : this.#rowsOf(base, '');
    return [...inherited, ...own.map((row) => ({ owner: typeName, row }))];
  }

  #elementOf(owner: string, row: ElementRow): BaseElement {
    const label = row.path.slice(row.path.lastIndexOf('.') + 1);
    const name = label.replace('[x]', '');
    const types = row.types.length === 0 ? ['BackboneElement'] : row.types;
    const forms = types.map((type) => ({
      type,
      jsonName: label === name ? name : name + capitalized(type),
      isPrimitive: this.#types.get(type)?.kind === 'primitive-type',
      content: this.#contentOf(owner, row, type),
    }));
    const choices = label === name ? undefined : new Map(forms.map((form) => [form.jsonName, form]));
    return { name, label, path: `${owner}.${row.path}`, row, forms, choices };
  }

  #contentOf(owner: string, row: ElementRow, type: string): string {
    if (row.content !== undefined) return `${owner}.${row.content}`;
    const hasElements = this.#types.get(owner)?.elements.some(({ path }) => parentOf(path) === row.path);
    return hasElements === true ? `${owner}.${row.path}` : type;
  }
}

/** `Quantity` as it ends `valueQuantity`. */
export const capitalized = (type: string): string => type.charAt(0).toUpperCase() + type.slice(1);

const parentOf = (path: string): string => path.slice(0, Math.max(path.lastIndexOf('.'), 0));

function* membersOf(elements: Iterable<BaseElement>): Iterable<[string, JsonMember]> {
  for (const element of elements) {
    for (const form of element.forms) {
      yield [form.jsonName, { element, form, isTwin: false }];
      if (form.isPrimitive) yield [`_${form.jsonName}`, { element, form, isTwin: true }];
    }
  }
}

function expressionsByKey(constraints: readonly ConstraintRow[]): ReadonlyMap<string, ReadonlySet<string>> {
  const byKey = new Map<string, Set<string>>();
  for (const { key, expression } of constraints) {
    byKey.set(key, (byKey.get(key) ?? new Set()).add(expression));
  }
  return byKey;
}
