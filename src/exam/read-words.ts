import {
  findJoint,
  findLookFeelItem,
  findMovement,
  joints,
  lookFeelItemsOf,
  lookFeelWordsOf,
  readLookFeelWord,
  readMovementWord,
  type InspectionTarget,
  type Joint,
  type LookFeelItem,
  type Movement,
  type Target,
} from '../catalogue/index.js';
import { jointName } from './finding-name.js';
import { formIssue, listed, type Report } from './placed.js';
import { ruleIssue, type RuleId } from './rules.js';

/** A row of a list of words: its id, what is read, and what else is taken for it. */
export interface WordRow {
  readonly id: string;
  readonly label?: string;
  readonly synonyms?: readonly string[];
}

/** The row of a word by its id, label or a synonym. */
export function findWord<T extends WordRow>(said: string, rows: readonly T[]): T | undefined {
  const index = indexes.get(rows) ?? indexOf(rows);
  const at = index.get(fold(said));
  return at === undefined ? undefined : rows[at];
}

/** Where each word of a list leads; a list is folded once. */
const indexes = new WeakMap<readonly WordRow[], ReadonlyMap<string, number>>();

function indexOf(rows: readonly WordRow[]): ReadonlyMap<string, number> {
  const words = rows.flatMap(({ id, label = id, synonyms = [] }, at) =>
    [id, label, ...synonyms].map((word) => [fold(word), at] as const),
  );
  const index = new Map(words.toReversed());
  indexes.set(rows, index);
  return index;
}

/** Reads a word by the list it must stand in; reports it, with the list, when it does not. */
export function readListedWord<T extends WordRow>(
  said: string,
  rows: readonly T[],
  what: string,
  place: string,
  report: Report,
  rule?: RuleId,
): T | undefined {
  const row = findWord(said, rows);
  if (row) return row;
  const allowed = rows.map(({ id }) => id);
  const sentence = noneOf(said, what, allowed);
  const details = { found: said, allowed };
  report(
    rule ? ruleIssue(rule, place, sentence, details) : formIssue('unknown-word', place, sentence, details),
  );
  return undefined;
}

/** Why a word is refused; what was left out has its own part of the document, with a reason. */
function noneOf(said: string, what: string, allowed: readonly string[]): string {
  return isSame(said, 'not assessed')
    ? `"${said}" is no ${what}: what was left out goes into "notAssessed" with its reason.`
    : `"${said}" is no ${what}; it is one of ${listed(allowed)}.`;
}

/** Reads a joint by its id, name or an accepted synonym. */
export function readJoint(said: string, place: string, report: Report): Joint | undefined {
  const joint = findJoint(said);
  if (joint) return joint;
  const allowed = joints.map(({ id }) => id);
  const sentence = `"${said}" is no joint of the examination; it is one of ${listed(allowed)}.`;
  report(formIssue('unknown-joint', place, sentence, { found: said, allowed }));
  return undefined;
}

/** Reads an item that is looked or felt for at a joint. */
export function readItem(
  joint: Joint,
  said: string,
  place: string,
  report: Report,
): LookFeelItem | undefined {
  const items = lookFeelItemsOf(joint.id);
  const item = findLookFeelItem(said);
  if (item && items.includes(item)) return item;
  const allowed = items.map(({ id }) => id);
  const what = `"${said}" is nothing that is looked or felt for at the ${jointName(joint.id)}`;
  const sentence = `${what}; it is one of ${listed(allowed)}.`;
  report(formIssue('unknown-item', place, sentence, { found: said, allowed }));
  return undefined;
}

/** Reads the answer given for an item. */
export function readItemWord(
  joint: Joint,
  item: LookFeelItem,
  said: string,
  place: string,
  report: Report,
): string | undefined {
  const word = readLookFeelWord(item, joint.id, said);
  if (word) return word.id;
  const allowed = lookFeelWordsOf(item, joint.id).map(({ id }) => id);
  const sentence = noneOf(said, `answer for ${item.label} of the ${jointName(joint.id)}`, allowed);
  report(formIssue('unknown-word', place, sentence, { found: said, allowed }));
  return undefined;
}

/** What the word given for a movement stands for, with the word as typed where it was corrected. */
export type MovementReading =
  | {
      readonly kind: 'movement';
      readonly movement: Movement;
      readonly part?: 'hyperextends';
      readonly typed?: string;
    }
  | { readonly kind: 'seen'; readonly target: InspectionTarget; readonly typed: string };

/**
 * Reads the word given for a movement of a joint, with the five actions of the misnomers: what is normalised is told,
 * what is suggested or belongs elsewhere is asked to be confirmed, the rest is refused (MV-01 to MV-05).
 */
export function readMovement(
  joint: Joint,
  said: string,
  place: string,
  report: Report,
): MovementReading | undefined {
  const answer = readMovementWord(joint.id, said);
  const at = `"${said}" at the ${jointName(joint.id)}`;
  switch (answer.kind) {
    case 'movement':
      return { kind: 'movement', movement: answer.movement };
    case 'chosen':
      return readingOf(answer.target, said);
    case 'normalise':
    case 'suggest':
    case 'rehome': {
      const { kind, word, why, target } = answer;
      report(correction(kind, said, place, `${at}: ${why}`, word, target));
      return readingOf(target, said);
    }
    case 'ask': {
      const rule = isSame(said, 'rotation') ? 'MV-03' : 'MV-01';
      const sentence = `${at} may mean ${listed(answer.choices)} (${answer.why}): send the one that is meant.`;
      report(ruleIssue(rule, place, sentence, { severity: 'error', found: said, choices: answer.choices }));
      return undefined;
    }
    case 'reject':
      report(ruleIssue('MV-01', place, `${at} is no movement: ${answer.why}.`, { found: said }));
      return undefined;
    case 'unknown': {
      const sentence = `${at} is no movement; it is one of ${listed(answer.allowed)}.`;
      report(ruleIssue('MV-01', place, sentence, { found: said, allowed: answer.allowed }));
      return undefined;
    }
  }
}

function correction(
  kind: 'normalise' | 'suggest' | 'rehome',
  said: string,
  place: string,
  why: string,
  word: string,
  target: Target,
): ReturnType<typeof ruleIssue> {
  if (kind === 'normalise') {
    const sentence = `${why}; it is stored as ${word}.`;
    return ruleIssue('MV-01', place, sentence, { severity: 'info', found: said, allowed: [word] });
  }
  const rule = correctionRule(said, target);
  const sentence = `${why}; once confirmed it is stored as ${word}.`;
  return ruleIssue(rule, place, sentence, { severity: 'confirm', found: said, choices: [word] });
}

function correctionRule(said: string, target: Target): RuleId {
  if (target.kind === 'look-feel') return 'MV-04';
  return ABBREVIATION.test(said.trim()) ? 'MV-05' : 'MV-01';
}

/** The abbreviations of movements that are asked about first (MV-05). */
const ABBREVIATION = /^(abd|add|df|pf|ir|er)$/i;

function readingOf(target: Target, typed: string): MovementReading | undefined {
  if (target.kind === 'look-feel') return { kind: 'seen', target, typed };
  const movement = findMovement(target.movement);
  return movement && { kind: 'movement', movement, typed, ...(target.part && { part: target.part }) };
}

/** Whether two words are the same but for case, hyphens and spaces. */
function isSame(a: string, b: string): boolean {
  return fold(a) === fold(b);
}

function fold(word: string): string {
  return word
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .trim();
}
