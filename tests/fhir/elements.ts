import type {
  ConstraintRow,
  Definitions,
  ElementRow,
  TypeDefinition,
} from '../../src/fhir/definitions/index.js';
import type { JsonObject } from './arbitrary-resource.js';

/** An object within a resource, with what the definitions say of it. */
export interface PlacedElement {
  readonly value: JsonObject;
  /** Its type, or the path of an element that has elements of its own (`Observation.component`). */
  readonly base: string;
  /** Of its type, of the element, and of the profile on its type. */
  readonly constraints: readonly ConstraintRow[];
  /** The resource it stands in, and the one that contains that one. */
  readonly resource: JsonObject;
  readonly root: JsonObject;
  /** In FHIRPath: `Observation.component[1].value`. */
  readonly place: string;
}

/** An element under one of its JSON names. */
export interface Member {
  readonly row: ElementRow;
  /** Empty for an element that shares the definition of another. */
  readonly type: string;
  readonly isPrimitive: boolean;
  /** In JSON: `valueQuantity`. */
  readonly key: string;
  /** In FHIRPath: `value`. */
  readonly name: string;
}

/**
 * Lists the objects of a well-shaped resource with their definitions. Written apart from the validator's own way through
 * a resource, so that the two can be held against each other.
 */
export class Elements {
  readonly #types: ReadonlyMap<string, TypeDefinition>;

  constructor({ types }: Definitions) {
    this.#types = new Map(types.map((type) => [type.name, type]));
  }

  listOf(
    resource: JsonObject,
    root: JsonObject = resource,
    place = typeOf(resource),
  ): readonly PlacedElement[] {
    const type = this.#types.get(typeOf(resource));
    if (type === undefined) return [];
    const own = {
      value: resource,
      base: type.name,
      constraints: this.#ofType(type.name),
      resource,
      root,
      place,
    };
    return [own, ...this.#below(own, type, '')];
  }

  /** The elements that may stand in one of this base, inherited ones too, by their JSON names. */
  membersOf(base: string): readonly Member[] {
    const [name = '', ...steps] = base.split('.');
    return this.#membersBelow(this.#types.get(name), steps.join('.'));
  }

  #membersBelow(type: TypeDefinition | undefined, path: string): readonly Member[] {
    if (type === undefined) return [];
    const base = path === '' ? type.base : type.elements.find((row) => row.path === path)?.types[0];
    const inherited = base === undefined ? [] : this.#membersBelow(this.#types.get(base), '');
    const rows = type.elements.filter((row) => parentOf(row.path) === path);
    return [
      ...inherited,
      ...rows.flatMap((row) => {
        const hasElements = type.elements.some((each) => parentOf(each.path) === (row.content ?? row.path));
        return formsOf(row).map((form) => ({
          ...form,
          row,
          isPrimitive: !hasElements && this.#types.get(form.type)?.kind === 'primitive-type',
        }));
      }),
    ];
  }

  /** The constraints that a type adds and inherits, on itself. */
  #ofType(name: string): readonly ConstraintRow[] {
    const type = this.#types.get(name);
    if (type === undefined) return [];
    const inherited = type.base === undefined ? [] : this.#ofType(type.base);
    return [...inherited, ...constraintsAt(type, '')];
  }

  #below(parent: PlacedElement, type: TypeDefinition, path: string): readonly PlacedElement[] {
    const base = path === '' ? type.base : type.elements.find((row) => row.path === path)?.types[0];
    const baseType = base === undefined ? undefined : this.#types.get(base);
    const inherited = baseType === undefined ? [] : this.#below(parent, baseType, '');
    const rows = type.elements.filter((row) => parentOf(row.path) === path);
    return [...inherited, ...rows.flatMap((row) => this.#ofRow(parent, type, row))];
  }

  #ofRow(parent: PlacedElement, owner: TypeDefinition, row: ElementRow): readonly PlacedElement[] {
    return formsOf(row).flatMap(({ type, key, name }) => {
      const held = parent.value[key];
      const place = `${parent.place}.${name}`;
      if (!Array.isArray(held))
        return isObject(held) ? this.#ofItem(parent, owner, row, type, held, place) : [];
      return (held as readonly unknown[]).flatMap((item, index) =>
        isObject(item) ? this.#ofItem(parent, owner, row, type, item, `${place}[${String(index)}]`) : [],
      );
    });
  }

  #ofItem(
    { resource, root }: PlacedElement,
    owner: TypeDefinition,
    row: ElementRow,
    type: string,
    value: JsonObject,
    place: string,
  ): readonly PlacedElement[] {
    if (type === 'Resource') return this.listOf(value, row.path === 'contained' ? root : value, place);
    const path = row.content ?? row.path;
    const hasElements = owner.elements.some((each) => parentOf(each.path) === path);
    const profile = row.profile === undefined ? [] : this.#ofType(row.profile);
    const constraints = [
      ...this.#ofType(hasElements ? 'BackboneElement' : type),
      ...constraintsAt(owner, row.path),
      ...(row.content === undefined ? [] : constraintsAt(owner, row.content)),
      ...profile,
    ];
    const base = hasElements ? `${owner.name}.${path}` : type;
    const own = { value, base, constraints, resource, root, place };
    const definition = this.#types.get(type);
    if (hasElements) return [own, ...this.#below(own, owner, path)];
    return definition === undefined ? [own] : [own, ...this.#below(own, definition, '')];
  }
}

/** The JSON names of an element: one, or one for each type of a choice. */
function formsOf(row: ElementRow): readonly Pick<Member, 'type' | 'key' | 'name'>[] {
  const last = row.path.slice(row.path.lastIndexOf('.') + 1);
  const name = last.replace('[x]', '');
  return (row.content === undefined ? row.types : ['']).map((type) => ({
    type,
    name,
    key: last === name ? name : name + type.charAt(0).toUpperCase() + type.slice(1),
  }));
}

const typeOf = ({ resourceType }: JsonObject): string => String(resourceType);

const parentOf = (path: string): string => path.slice(0, Math.max(path.lastIndexOf('.'), 0));

const constraintsAt = ({ constraints = [] }: TypeDefinition, path: string): readonly ConstraintRow[] =>
  constraints.filter((constraint) => constraint.path === path);

const isObject = (value: unknown): value is JsonObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
