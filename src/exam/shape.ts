import { isLosslessNumber } from 'lossless-json';
import { z } from 'zod';
import type { JsonValue } from '../fhir/index.js';
import {
  absentEntry,
  asExpectedEntry,
  DOCUMENT_LIMITS,
  documentHead,
  gaitEntry,
  gripEntry,
  jointEntry,
  measureEntry,
  neurovascularEntry,
  notAssessedEntry,
  onBodyEntry,
  painEntry,
  screenEntry,
  type AbsentEntry,
  type AsExpectedEntry,
  type DocumentHead,
  type GaitEntry,
  type GripEntry,
  type JointEntry,
  type MeasureEntry,
  type NeurovascularEntry,
  type NotAssessedEntry,
  type OnBodyEntry,
  type PainEntry,
  type ScreenEntry,
  type ShapeFault,
} from './document.js';
import { formIssue, listed, pointer, type Report } from './placed.js';
import { ruleIssue, type RuleId } from './rules.js';

/** An entry of the document with its JSON Pointer. */
export interface Entry<T> {
  readonly entry: T;
  readonly place: string;
  /** Places of the parts that have the wrong form and were left out; the rest is read only for what is wrong with it. */
  readonly leftOut?: readonly string[];
}

/** An entry of `findings`, told apart by the property that says what it is. */
export type FindingEntry =
  | { readonly kind: 'joint'; readonly entry: JointEntry }
  | { readonly kind: 'grip'; readonly entry: GripEntry }
  | { readonly kind: 'pain'; readonly entry: PainEntry }
  | { readonly kind: 'measure'; readonly entry: MeasureEntry }
  | { readonly kind: 'screen'; readonly entry: ScreenEntry }
  | { readonly kind: 'neurovascular'; readonly entry: NeurovascularEntry }
  | { readonly kind: 'gait'; readonly entry: GaitEntry };

/** The parts of a document that have the right form; the others were reported. */
export interface DocumentShape {
  readonly head: Entry<DocumentHead> | undefined;
  /** The patient, also when the rest of the head cannot be read. */
  readonly patient: DocumentHead['patient'] | undefined;
  readonly asExpected: readonly Entry<AsExpectedEntry>[];
  readonly findings: readonly Entry<FindingEntry>[];
  readonly onBody: readonly Entry<OnBodyEntry>[];
  readonly absent: readonly Entry<AbsentEntry>[];
  readonly notAssessed: readonly Entry<NotAssessedEntry>[];
}

/** Reads the form of a document; undefined when it is no object. Each part is read by itself, so all faults are told. */
export function readShape(value: JsonValue, report: Report): DocumentShape | undefined {
  if (!isObject(value)) {
    report(formIssue('wrong-type', '', `An exam document is an object, not ${kindOf(value)}.`));
    return undefined;
  }
  return {
    head: readLegible(documentHead, value, '', report),
    patient: documentHead.shape.patient.safeParse(value['patient']).data,
    asExpected: readList(value, 'asExpected', asExpectedEntry, report),
    findings: readFindingEntries(value, report),
    onBody: readList(value, 'onBody', onBodyEntry, report),
    absent: readList(value, 'absent', absentEntry, report),
    notAssessed: readList(value, 'notAssessed', notAssessedEntry, report),
  };
}

type JsonObject = Readonly<Record<string, JsonValue>>;

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value) && !isLosslessNumber(value);
}

function readList<T>(
  document: JsonObject,
  name: string,
  schema: z.ZodType<T>,
  report: Report,
): readonly Entry<T>[] {
  return itemsOf(document, name, report).flatMap(
    ({ entry, place }) => readLegible(schema, entry, place, report) ?? [],
  );
}

/**
 * What stands in for a part that is required and cannot be read, so that the rest can be held to its rules; a document
 * with one is refused. A focused exam requires nothing of the patient.
 */
const STAND_INS: Readonly<Record<string, JsonValue>> = {
  clientId: 'unknown',
  type: 'focused',
  trials: [1],
  value: 1,
  result: 'unable',
  limb: 'upper',
  reason: 'no-time',
  device: 'cast',
  level: 'unknown',
};

/** Reads a part by its schema; what of it has the wrong form is reported and left out, where the rest can do without. */
function readLegible<T>(
  schema: z.ZodType<T>,
  value: JsonValue,
  place: string,
  report: Report,
): Entry<T> | undefined {
  const read = schema.safeParse(value);
  if (read.success) return { entry: read.data, place };
  reportFaults(read.error.issues, { schema, value, place, report });
  const paths = read.error.issues.flatMap(faultyParts);
  const kept = paths.reduce<unknown>(without, value);
  const rest = [kept, withStandIns(kept, paths)]
    .map((one) => schema.safeParse(one))
    .find(({ success }) => success);
  return rest?.data && { entry: rest.data, place, leftOut: paths.map((path) => pointer(place, ...path)) };
}

function withStandIns(kept: unknown, paths: readonly (readonly PropertyKey[])[]): unknown {
  const names = new Set(paths.map(([name]) => name));
  const needed = Object.entries(STAND_INS).filter(([name]) => names.has(name));
  return isObject(kept) ? { ...Object.fromEntries(needed), ...kept } : kept;
}

/** The members that a fault is about; of a list the whole, so that the places of its items hold. */
function faultyParts(fault: z.core.$ZodIssue): readonly (readonly PropertyKey[])[] {
  const { path } = fault;
  if (fault.code === 'unrecognized_keys') return fault.keys.map((key) => beforeItems([...path, key]));
  return [beforeItems(path)];
}

function beforeItems(path: readonly PropertyKey[]): readonly PropertyKey[] {
  const item = path.findIndex((step) => typeof step === 'number');
  return item < 0 ? path : path.slice(0, item);
}

function without(held: unknown, [step, ...rest]: readonly PropertyKey[]): unknown {
  if (step === undefined || !isObject(held)) return held;
  const name = String(step);
  const kept = Object.entries(held).filter(([key]) => key !== name || rest.length > 0);
  return Object.fromEntries(
    kept.map(([key, member]) => [key, key === name ? without(member, rest) : member]),
  );
}

function itemsOf(document: JsonObject, name: string, report: Report): readonly Entry<JsonValue>[] {
  const list = document[name];
  const place = pointer('', name);
  if (list === undefined) return [];
  if (!Array.isArray(list)) {
    const sentence = `"${name}" is a list of entries, not ${kindOf(list)}.`;
    const isSweeping = name === 'asExpected' && typeof list === 'string';
    report(
      isSweeping
        ? ruleIssue('CM-02', place, sentence, { found: list })
        : formIssue('wrong-type', place, sentence),
    );
    return [];
  }
  if (list.length > DOCUMENT_LIMITS.entries) {
    const allowed = DOCUMENT_LIMITS.entries;
    const sentence = `"${name}" has ${list.length} entries; ${allowed} are the most a document may hold.`;
    report(formIssue('too-many', place, sentence, { found: list.length, allowed }));
    return [];
  }
  return (list as readonly JsonValue[]).map((entry, index) => ({ entry, place: pointer(place, index) }));
}

function readFindingEntries(document: JsonObject, report: Report): readonly Entry<FindingEntry>[] {
  return itemsOf(document, 'findings', report).flatMap(
    ({ entry, place }) => readFindingEntry(entry, place, report) ?? [],
  );
}

const FINDING_SCHEMAS = {
  joint: jointEntry,
  grip: gripEntry,
  pain: painEntry,
  measure: measureEntry,
  screen: screenEntry,
  neurovascular: neurovascularEntry,
  gait: gaitEntry,
} as const;

function readFindingEntry(value: JsonValue, place: string, report: Report): Entry<FindingEntry> | undefined {
  const kind = isObject(value) ? kindOfFinding(value) : 'joint';
  if (kind === undefined) {
    const allowed = ['joint', 'measure', 'screen', 'check', 'gait'];
    const sentence = `This finding does not say what it is about: it has ${listed(allowed)}.`;
    report(formIssue('unknown-finding', place, sentence, { allowed }));
    return undefined;
  }
  const read = readLegible<unknown>(FINDING_SCHEMAS[kind], value, place, report);
  return read && { ...read, entry: { kind, entry: read.entry } as FindingEntry };
}

function kindOfFinding(value: JsonObject): FindingEntry['kind'] | undefined {
  const { measure } = value;
  if (measure !== undefined) return kindOfMeasure(measure);
  if (value['screen'] !== undefined) return 'screen';
  if (value['check'] !== undefined) return 'neurovascular';
  if (value['gait'] !== undefined) return 'gait';
  return value['joint'] === undefined ? undefined : 'joint';
}

function kindOfMeasure(measure: JsonValue): 'grip' | 'pain' | 'measure' {
  const name = typeof measure === 'string' ? measure.trim().toLowerCase() : '';
  if (name === 'pain') return 'pain';
  return /^(hand[ -])?grip([ -]strength)?$/.test(name) ? 'grip' : 'measure';
}

/** A part of a document read by its schema; its faults are reported and it is undefined then. */
export function readPart<T>(
  schema: z.ZodType<T>,
  value: unknown,
  place: string,
  report: Report,
): T | undefined {
  const read = schema.safeParse(value);
  if (read.success) return read.data;
  reportFaults(read.error.issues, { schema, value, place, report });
  return undefined;
}

interface Part {
  readonly schema: z.ZodType;
  readonly value: unknown;
  readonly place: string;
  readonly report: Report;
}

/** Every fault of a part; a number that stands for an object is one fault, whatever the object would lack. */
function reportFaults(faults: readonly z.core.$ZodIssue[], part: Part): void {
  const numbers = new Map<string, z.core.$ZodIssue>();
  for (const fault of faults) {
    const at = numberAt(fault, part.value);
    if (at === undefined) reportFault(fault, part);
    else
      numbers.set(pointer('', ...at), {
        code: 'invalid_type',
        expected: 'object',
        path: [...at],
        message: '',
      });
  }
  for (const fault of numbers.values()) reportFault(fault, part);
}

/** Where, on the way to a fault, a number was read as if it were an object: it is kept as one for its digits. */
function numberAt({ code, path }: z.core.$ZodIssue, value: unknown): readonly PropertyKey[] | undefined {
  const within = code === 'unrecognized_keys' ? path.length : path.length - 1;
  return Array.from({ length: within + 1 }, (_, steps) => path.slice(0, steps)).find((way) =>
    isLosslessNumber(way.reduce<unknown>(memberOf, value)),
  );
}

function reportFault(fault: z.core.$ZodIssue, part: Part): void {
  const { path } = fault;
  const found = path.reduce<unknown>((held, step) => memberOf(held, step), part.value);
  const place = pointer(part.place, ...path);
  const name = nameOf(path);
  if (fault.code === 'unrecognized_keys') {
    const known = knownNames(schemaAt(part.schema, path));
    for (const key of fault.keys) part.report(unknownProperty(key, known, place));
  } else if (fault.code === 'invalid_union') {
    reportUnion(fault, part, place, name, found);
  } else if (found === undefined) {
    part.report(withRule(name, place, 'missing', `"${name}" is missing.`, {}));
  } else {
    const { code, sentence, allowed } = wording(fault, name, found);
    part.report(
      withRule(name, place, code, sentence, {
        found: shown(found),
        ...(allowed !== undefined && { allowed }),
      }),
    );
  }
}

/** The property that a fault is about; of a list, which of its items. */
function nameOf(path: readonly PropertyKey[]): string {
  const [last, parent] = path.toReversed();
  if (last === undefined) return 'the entry';
  return typeof last === 'number' && parent !== undefined ? `${String(parent)} ${last + 1}` : String(last);
}

/** Of several forms the one is meant whose first fault lies deepest. */
function reportUnion(
  fault: z.core.$ZodIssueInvalidUnion,
  part: Part,
  place: string,
  name: string,
  found: unknown,
): void {
  const inner = isLosslessNumber(found)
    ? undefined
    : fault.errors.find(([first]) => (first?.path.length ?? 0) > 0 || first?.code === 'unrecognized_keys');
  if (found === undefined) part.report(withRule(name, place, 'missing', `"${name}" is missing.`, {}));
  else if (inner === undefined) {
    const sentence = `"${name}" cannot be ${kindOf(found)} here.`;
    part.report(withRule(name, place, 'wrong-type', sentence, { found: shown(found) }));
  } else {
    for (const one of inner) reportFault({ ...one, path: [...fault.path, ...one.path] }, part);
  }
}

/** The rule that wants a property, for those that a written rule names. */
const RULE_OF_PROPERTY: Readonly<Record<string, RuleId>> = {
  patient: 'ID-01',
  readBack: 'ID-01',
  birthDate: 'ID-01',
  examiner: 'ID-02',
  performedAt: 'TM-01',
  recordedAt: 'TM-01',
  side: 'LT-01',
  sides: 'LT-01',
  reason: 'CM-05',
  elements: 'CM-11',
  strength: 'SC-01',
};

function withRule(
  name: string,
  place: string,
  code: string,
  sentence: string,
  details: { found?: unknown; allowed?: unknown },
): ReturnType<typeof formIssue> {
  const rule = RULE_OF_PROPERTY[name];
  if (code === 'VL-13') return ruleIssue('VL-13', place, sentence, details);
  return rule === undefined
    ? formIssue(code, place, sentence, details)
    : ruleIssue(rule, place, sentence, { ...details, severity: 'error' });
}

interface Wording {
  readonly code: string;
  readonly sentence: string;
  readonly allowed?: unknown;
}

function wording(fault: z.core.$ZodIssue, name: string, found: unknown): Wording {
  switch (fault.code) {
    case 'invalid_value':
      return {
        code: 'unknown-word',
        sentence: `"${name}" is ${listed(fault.values.map(String))}, not ${quoted(found)}.`,
        allowed: fault.values,
      };
    case 'too_big':
      return {
        code: fault.origin === 'string' ? 'too-long' : 'too-many',
        sentence: `"${name}" holds more than the ${String(fault.maximum)} ${unitOf(fault.origin)} allowed.`,
        allowed: { atMost: Number(fault.maximum) },
      };
    case 'too_small':
      return { code: 'empty', sentence: `"${name}" is empty; leave it out or fill it.` };
    case 'custom':
      return SHAPE_FAULTS[faultOf(fault)](name, found);
    case 'invalid_type':
      return {
        code: 'wrong-type',
        sentence: `"${name}" is ${TYPE_NAMES[fault.expected] ?? fault.expected}, not ${kindOf(found)}.`,
        allowed: fault.expected,
      };
    case 'invalid_key':
    case 'invalid_element':
    case 'invalid_format':
    case 'invalid_union':
    case 'not_multiple_of':
    case 'unrecognized_keys':
      return { code: 'wrong-type', sentence: `"${name}" is not of the form that is expected here.` };
  }
}

const TYPE_NAMES: Readonly<Record<string, string>> = {
  string: 'a text',
  array: 'a list',
  object: 'an object',
  record: 'an object',
  boolean: 'true or false',
};

const unitOf = (origin: string): string => (origin === 'string' ? 'characters' : 'entries');

function faultOf(fault: z.core.$ZodIssueCustom): ShapeFault {
  return (fault.params?.['fault'] as ShapeFault | undefined) ?? 'number';
}

const SHAPE_FAULTS: Readonly<Record<ShapeFault, (name: string, found: unknown) => Wording>> = {
  number: (name, found) => ({
    code: typeof found === 'string' ? 'VL-13' : 'wrong-type',
    sentence: `"${name}" is a number without quotes or unit, not ${quoted(found)}.`,
    allowed: 'number',
  }),
  whole: (name, found) => ({
    code: 'not-whole',
    sentence: `"${name}" is a whole number from 1 to 5, not ${quoted(found)}.`,
    allowed: { from: 1, to: 5 },
  }),
  instant: (name, found) => ({
    code: 'TM-01',
    sentence: `"${name}" is a time to the second with its offset, such as 2026-03-05T08:10:00-05:00, not ${quoted(found)}.`,
    allowed: 'YYYY-MM-DDThh:mm:ss+zz:zz',
  }),
  date: (name, found) => ({
    code: 'bad-date',
    sentence: `"${name}" is a year, month or day that exists, such as 1956 or 1956-04-30, not ${quoted(found)}.`,
    allowed: 'YYYY, YYYY-MM or YYYY-MM-DD',
  }),
  grade: (name, found) => ({
    code: 'SC-01',
    sentence: `"${name}" is a grade from 0 to 5, not ${quoted(found)}.`,
    allowed: ['0', '1', '2', '3', '4', '5'],
  }),
};

/** Properties that are left out on purpose, with the rule that says why. */
const TELLING_STRAYS: readonly {
  readonly beside: string;
  readonly keys: RegExp;
  readonly rule: RuleId;
  readonly sentence: string;
}[] = [
  {
    beside: 'birthDate',
    keys: /^(bed|room|bay|ward)/i,
    rule: 'ID-01',
    sentence: 'A bed or room is no identifier of a patient: read back name or birth date.',
  },
  {
    beside: 'screen',
    keys: /^(strength|grade|degrees)$/i,
    rule: 'SC-05',
    sentence: 'A screen is not a grade: it takes a result in words, and no strength.',
  },
  {
    beside: 'elements',
    keys: /^(result|status|intact|nvi)$/i,
    rule: 'CM-11',
    sentence: 'A neurovascular check is told by its elements, not by one word for all.',
  },
];

function unknownProperty(
  key: string,
  known: readonly string[],
  parent: string,
): ReturnType<typeof formIssue> {
  const near = nearest(key, known);
  const place = pointer(parent, key);
  const hint = near === undefined ? `${listed(known)} are known` : `did you mean "${near}"?`;
  const sentence = `"${clip(key)}" is no property here: ${hint}${near === undefined ? '.' : ''}`;
  const told = TELLING_STRAYS.find(({ beside, keys }) => known.includes(beside) && keys.test(key));
  if (told) return ruleIssue(told.rule, place, told.sentence, { severity: 'error', found: clip(key) });
  return formIssue('unknown-property', place, sentence, { found: clip(key), allowed: known });
}

function memberOf(held: unknown, step: PropertyKey): unknown {
  return typeof held === 'object' && held !== null && Object.hasOwn(held, step)
    ? (held as Readonly<Record<PropertyKey, unknown>>)[step]
    : undefined;
}

/** The schema of a place within a schema, through lists, optional and either-or parts. */
function schemaAt(schema: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>((held, step) => {
    const bare = unwrapped(held);
    if (bare instanceof z.ZodObject) return (bare.shape as Readonly<Record<PropertyKey, unknown>>)[step];
    if (bare instanceof z.ZodArray) return bare.element;
    return bare instanceof z.ZodRecord ? bare.valueType : undefined;
  }, schema);
}

function unwrapped(schema: unknown): unknown {
  if (schema instanceof z.ZodOptional) return unwrapped(schema.unwrap());
  if (!(schema instanceof z.ZodUnion)) return schema;
  return schema.options.map(unwrapped).find((option) => option instanceof z.ZodObject) ?? schema;
}

function knownNames(schema: unknown): readonly string[] {
  const bare = unwrapped(schema);
  return bare instanceof z.ZodObject ? Object.keys(bare.shape) : [];
}

/** The known name that a misspelt one is closest to; none when it is too far from all. */
function nearest(key: string, known: readonly string[]): string | undefined {
  if (key.length > 40) return undefined;
  const ranked = known
    .map((name) => ({ name, steps: editSteps(key.toLowerCase(), name.toLowerCase()) }))
    .sort((a, b) => a.steps - b.steps);
  const [best] = ranked;
  return best && best.steps <= Math.max(1, Math.floor(best.name.length / 3)) ? best.name : undefined;
}

/** Letters to insert, drop or change until one word is the other (Levenshtein distance). */
function editSteps(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const change = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}

/** A value as it may be shown in an issue: scalars as they are, long texts cut, the rest by its kind. */
export function shown(value: unknown): unknown {
  if (typeof value === 'string') return clip(value);
  if (typeof value === 'number' || typeof value === 'boolean' || value === null) return value;
  return isLosslessNumber(value) ? value.value : kindOf(value);
}

function quoted(value: unknown): string {
  const bare = shown(value);
  return typeof value === 'string' ? `"${String(bare)}"` : String(bare);
}

function clip(text: string): string {
  return text.length <= 100 ? text : `${text.slice(0, 100)}…`;
}

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'number' || isLosslessNumber(value)) return 'a number';
  if (typeof value === 'boolean') return 'true or false';
  return typeof value === 'string' ? 'a text' : 'an object';
}
