import { findJoint, joints, type JointId } from './joints.js';
import { findNamedFinding } from './look-feel.js';
import { misnomers, type Misnomer, type RightWord, type Target } from './misnomers.js';
import { findMovement, movementsOf, type Movement } from './movements.js';
import { finderOf, foldWord } from './text.js';

/**
 * What a word says when it is given as the movement of a joint.
 *
 * `movement`: it is the joint's own. `chosen`: one of the choices of an earlier question, sent back; it is taken as
 * it is and may be filed at another joint or as something seen. `normalise`, `suggest`, `rehome`, `ask` and `reject`
 * are the actions of `Misnomer`. `unknown`: no word of the trade at this joint; `allowed` are its terms.
 */
export type WordAnswer =
  | { readonly kind: 'movement'; readonly movement: Movement; readonly synonym: boolean }
  | { readonly kind: 'chosen'; readonly target: Target }
  | {
      readonly kind: 'normalise' | 'suggest' | 'rehome';
      readonly target: Target;
      /** The right word in full, with its joint when that is another. */
      readonly word: string;
      readonly why: string;
    }
  | { readonly kind: 'ask'; readonly choices: readonly string[]; readonly why: string }
  | { readonly kind: 'reject'; readonly why: string }
  | { readonly kind: 'unknown'; readonly allowed: readonly string[] };

/**
 * Reads the word said for a movement of a joint: ids, terms, accepted synonyms, choices sent back, misnomers,
 * abbreviations (MV-05), findings said as movements (MV-04) and movements of other joints (MV-01).
 */
export function readMovementWord(jointId: string, word: string): WordAnswer {
  const said = withoutJoint(jointId, foldWord(word));
  return (
    ownMovement(jointId, word) ??
    ownMovement(jointId, said) ??
    choiceSentBack(jointId, word) ??
    misnomer(jointId, said) ??
    abbreviation(jointId, said) ??
    bareRotation(jointId, said) ??
    seenThing(jointId, said) ??
    otherJointsMovement(jointId, word) ??
    misplaced(said) ?? { kind: 'unknown', allowed: movementsOf(jointId).map((movement) => movement.term) }
  );
}

/** "Flexion of the knee", said of the knee, is flexion. */
function withoutJoint(jointId: string, folded: string): string {
  const [, said, of] = /^(.+) of the (.+)$/.exec(folded) ?? [];
  return said !== undefined && of !== undefined && findJoint(of)?.id === jointId ? said : folded;
}

/** The words that are said of one joint. */
interface JointWords {
  readonly nameOf: (said: string) => Movement | undefined;
  readonly synonymOf: (said: string) => Movement | undefined;
  readonly choice: (said: string) => RightWord | undefined;
  readonly misnomer: (said: string) => Misnomer | undefined;
}

const wordsByJoint: ReadonlyMap<string, JointWords> = new Map(joints.map(({ id }) => [id, jointWords(id)]));

function jointWords(jointId: JointId): JointWords {
  const own = movementsOf(jointId);
  const wrong = misnomers.filter(({ joint }) => joint === jointId);
  const choices = wrong.filter(isOffered).flatMap(({ right }) => right);
  return {
    nameOf: finderOf(own, namesOf),
    synonymOf: finderOf(own, ({ synonyms }) => synonyms),
    choice: finderOf(choices, (right) => [offered(jointId, right)]),
    misnomer: finderOf(wrong, ({ said }) => [said]),
  };
}

/** Whether an answer offers the right words of a misnomer, so that one may be sent back. */
function isOffered({ action }: Misnomer): boolean {
  return action === 'ask' || action === 'suggest' || action === 'rehome';
}

/** A right word as it is offered: with its joint when that is another, so that it is never the wrong word itself. */
function offered(jointId: JointId, { word, target }: RightWord): string {
  const home = movementOfTarget(target)?.joint ?? jointId;
  return home === jointId || word.includes(' of the ') ? word : `${word} of the ${nameOf(home)}`;
}

/** Id, term, and the term without its bracketed explanation. */
function namesOf({ id, term }: Movement): readonly string[] {
  return [id, term, term.replace(/ \(.*\)$/, '')];
}

function ownMovement(jointId: string, said: string): WordAnswer | undefined {
  const words = wordsByJoint.get(jointId);
  const named = words?.nameOf(said);
  if (named) return { kind: 'movement', movement: named, synonym: false };
  const meant = words?.synonymOf(said);
  return meant && { kind: 'movement', movement: meant, synonym: true };
}

function choiceSentBack(jointId: string, word: string): WordAnswer | undefined {
  const chosen = wordsByJoint.get(jointId)?.choice(word);
  if (!chosen) return undefined;
  const { target } = chosen;
  const movement = movementOfTarget(target);
  return movement?.joint === jointId
    ? { kind: 'movement', movement, synonym: true }
    : { kind: 'chosen', target };
}

function misnomer(jointId: string, said: string): WordAnswer | undefined {
  const row = wordsByJoint.get(jointId)?.misnomer(said);
  return row && answerOf(row);
}

function answerOf({ joint, action, right, why }: Misnomer): WordAnswer {
  if (action === 'reject') return { kind: 'reject', why };
  if (action === 'ask') return { kind: 'ask', choices: right.map((one) => offered(joint, one)), why };
  const [first] = right;
  if (!first) throw new Error('a misnomer that is neither asked about nor refused has a right word');
  return { kind: action, target: first.target, word: offered(joint, first), why };
}

/** Abbreviations that mislead: ABD and ADD are one letter apart and opposite (MV-05, common practice). */
const abbreviations: ReadonlyMap<string, string> = new Map([
  ['abd', 'abduction'],
  ['add', 'adduction'],
  ['df', 'dorsiflexion'],
  ['pf', 'plantar flexion'],
  ['ir', 'internal rotation'],
  ['er', 'external rotation'],
]);

function abbreviation(jointId: string, said: string): WordAnswer | undefined {
  const full = abbreviations.get(said);
  if (full === undefined) return undefined;
  const answer = readMovementWord(jointId, full);
  const why = `${said.toUpperCase()} is an abbreviation that is misread; it stands for ${full}`;
  if (answer.kind === 'movement') {
    const { movement } = answer;
    return { kind: 'suggest', target: { kind: 'movement', movement: movement.id }, word: movement.term, why };
  }
  return answer.kind === 'normalise' ? { ...answer, kind: 'suggest', why: `${why}; ${answer.why}` } : answer;
}

/** GR-8, MV-03: rotation needs its direction wherever a joint turns two ways. */
function bareRotation(jointId: string, said: string): WordAnswer | undefined {
  if (said !== 'rotation') return undefined;
  const turns = movementsOf(jointId).filter(({ term }) => term.endsWith('rotation'));
  if (turns.length < 2) return { kind: 'reject', why: 'this joint has no rotation that is examined' };
  return { kind: 'ask', choices: turns.map(({ term }) => term), why: 'direction needed' };
}

function seenThing(jointId: string, said: string): WordAnswer | undefined {
  const joint = joints.find(({ id }) => id === jointId);
  const named = findNamedFinding(jointId, said);
  if (!joint || !named) return undefined;
  const target: Target = { kind: 'look-feel', joint: joint.id, item: named.item.id, value: named.word.id };
  const word = named.item.id === 'deformity' ? named.word.label : named.item.label;
  return { kind: 'rehome', target, word, why: 'it is seen or felt, and is no movement' };
}

/** A movement's id, or "movement of the joint", that belongs to another joint; asked about when that joint asks. */
function otherJointsMovement(jointId: string, word: string): WordAnswer | undefined {
  const there = wordOfNamedJoint(word);
  if (there?.answer.kind === 'ask') {
    const choices = there.answer.choices.map((choice) =>
      choice.includes(' of the ') ? choice : `${choice} of the ${nameOf(there.joint)}`,
    );
    return { ...there.answer, choices };
  }
  const named = there?.answer.kind === 'movement' ? there.answer.movement : undefined;
  const movement = findMovement(word.trim()) ?? named;
  if (!movement || movement.joint === jointId) return undefined;
  return {
    kind: 'rehome',
    target: { kind: 'movement', movement: movement.id },
    word: `${movement.term} of the ${nameOf(movement.joint)}`,
    why: `it is a movement of the ${nameOf(movement.joint)}`,
  };
}

function wordOfNamedJoint(
  word: string,
): { readonly joint: JointId; readonly answer: WordAnswer } | undefined {
  const [, said, of] = /^(.+) of the (.+)$/.exec(foldWord(word)) ?? [];
  const joint = of === undefined ? undefined : findJoint(of);
  if (!joint || said === undefined || said.includes(' of the ')) return undefined;
  return { joint: joint.id, answer: readMovementWord(joint.id, said) };
}

function nameOf(id: JointId): string {
  return (
    joints
      .find((joint) => joint.id === id)
      ?.name.toLowerCase()
      .replace(/ \(.*\)$/, '') ?? id
  );
}

/** GR-1 to GR-7: words that only some joints have, whoever else says them. */
const belongings: readonly { readonly words: readonly string[]; readonly why: string }[] = [
  { words: ['inversion', 'eversion'], why: 'inversion and eversion belong to the foot' },
  { words: ['radial deviation', 'ulnar deviation', 'deviation'], why: 'deviation belongs to the wrist' },
  { words: ['pronation', 'supination'], why: 'pronation and supination belong to the forearm' },
  {
    words: ['dorsiflexion', 'plantar flexion', 'plantarflexion'],
    why: 'dorsiflexion and plantar flexion belong to the ankle',
  },
  { words: ['opposition'], why: 'opposition belongs to the thumb' },
  {
    words: ['protrusion', 'retrusion', 'lateral excursion'],
    why: 'protrusion, retrusion and lateral excursion belong to the jaw',
  },
  { words: ['lateral flexion'], why: 'lateral flexion belongs to the neck and the trunk' },
  { words: ['circumduction'], why: 'circumduction is only watched, at the shoulder and the wrist' },
];

const findBelonging = finderOf(belongings, ({ words }) => words);

function misplaced(said: string): WordAnswer | undefined {
  const row = findBelonging(said);
  return row && { kind: 'reject', why: row.why };
}

/** The movement that a target names, if it names one. */
function movementOfTarget(target: Target): Movement | undefined {
  return target.kind === 'movement' ? findMovement(target.movement) : undefined;
}
