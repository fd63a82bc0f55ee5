import type { BaseElements, JsonMember } from './base-elements.js';
import type { ExtensionRule } from './extension-definitions.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

/** What is looked for in a resource. */
export interface ScanRules {
  readonly elements: BaseElements;
  /** The rule of an extension by its url. */
  readonly findExtension: (url: unknown) => ExtensionRule | undefined;
  /** Checks each resource, those within others too, at its place. */
  readonly checkResource: (resource: JsonObject, walk: Walk) => void;
}

/** Goes through a resource, those in it and all elements, to whatever something is said of: resources and extensions. */
export function scanResource(resource: JsonObject, rules: ScanRules, walk: Walk): void {
  rules.checkResource(resource, walk);
  const type = resource['resourceType'];
  if (typeof type !== 'string') return;
  new Scan(rules, walk).scanObject({
    object: resource,
    type,
    content: type,
    member: undefined,
    above: undefined,
  });
}

/** An object on the way down from its resource. */
interface Level {
  readonly object: JsonObject;
  readonly type: string;
  readonly content: string;
  /** Undefined for the resource. */
  readonly member: JsonMember | undefined;
  readonly above: Level | undefined;
}

class Scan {
  readonly #rules: ScanRules;
  readonly #walk: Walk;

  constructor(rules: ScanRules, walk: Walk) {
    this.#rules = rules;
    this.#walk = walk;
  }

  scanObject(level: Level): void {
    const members = this.#rules.elements.membersOf(level.content);
    for (const key of Object.keys(level.object)) {
      const value = level.object[key];
      if (typeof value !== 'object' || value === null) continue;
      const member = members.get(key);
      if (member !== undefined && (member.isTwin || !member.form.isPrimitive)) {
        this.#scanMember(value, member, level);
      }
    }
  }

  #scanMember(value: object, member: JsonMember, level: Level): void {
    const walk = this.#walk;
    if (!walk.enter(member.element.name)) return;
    if (Array.isArray(value)) {
      if (member.form.type === 'Extension') this.#checkCounts(value);
      for (const [index, item] of (value as readonly unknown[]).entries()) {
        if (!isJsonObject(item) || !walk.enter(index)) continue;
        this.#scanValue(item, member, level);
        walk.leave();
      }
    } else if (isJsonObject(value)) this.#scanValue(value, member, level);
    walk.leave();
  }

  #scanValue(object: JsonObject, member: JsonMember, above: Level): void {
    const { type, content } = member.form;
    if (type === 'Resource') {
      this.#walk.within(object, member.element.name === 'contained', () => {
        scanResource(object, this.#rules, this.#walk);
      });
      return;
    }
    if (type === 'Extension') this.#checkExtension(object, member, above);
    this.scanObject({ object, type, content, member, above });
  }

  #checkExtension(extension: JsonObject, { element, form }: JsonMember, extended: Level): void {
    const rule = this.#rules.findExtension(extension['url']);
    if (rule === undefined) return;
    const { member, type, content, object } = extended;
    const isModifier = element.name === 'modifierExtension';
    const path = (): string => pathOf(extended);
    rule.checkPlace(extension, { member, type, content, extended: object, isModifier, path }, this.#walk);
    rule.checkContent({ form, value: extension, twin: undefined, index: undefined }, this.#walk);
  }

  /** The cardinality that an extension's definition gives it on one element. */
  #checkCounts(extensions: readonly unknown[]): void {
    if (extensions.length < 2) return;
    const counts = new Map<unknown, number>();
    for (const extension of extensions) {
      const url = isJsonObject(extension) ? extension['url'] : undefined;
      const count = (counts.get(url) ?? 0) + 1;
      counts.set(url, count);
      const max = this.#rules.findExtension(url)?.max ?? '*';
      if (max !== '*' && count === max + 1) reportCount(url, max, this.#walk);
    }
  }
}

/** `Observation.bodySite.coding`. */
function pathOf({ above, member, type }: Level): string {
  return above === undefined || member === undefined ? type : `${pathOf(above)}.${member.element.name}`;
}

function reportCount(url: unknown, max: number, walk: Walk): void {
  const allowed = `0..${String(max)}`;
  const diagnostics = `The extension ${String(url)} stands here more often than its definition allows (${allowed}).`;
  walk.report({ code: 'structure', rule: 'cardinality', diagnostics, allowed });
}
