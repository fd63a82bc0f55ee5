import {
  expectedItems,
  expectedMovements,
  findLookFeelItem,
  withinExpectedDefinition,
  type Aspect,
  type Movement,
  type Side,
} from '../catalogue/index.js';
import type { AsExpectedEntry } from './document.js';
import type {
  AsExpectedFinding,
  Finding,
  LookFeelFinding,
  LookFeelItem,
  NotAssessedFinding,
} from './exam.js';
import { findingKey } from './finding-key.js';
import { itemName, jointName, nameFinding } from './finding-name.js';
import { given } from '../fhir/index.js';
import { formIssue, listed, type Placed, type Report } from './placed.js';
import { EVERY_ASPECT, jointSides, readNamedJoints } from './read-sides.js';
import type { Reading } from './read-joint-entry.js';
import type { Entry } from './shape.js';

/**
 * Expands "examined and within expected limits" over exactly the joints, sides and aspects that are named (CM-02).
 * A finding of the same thing is its exception and takes it out; what was named as not assessed contradicts it.
 */
export function expandAsExpected(
  entries: readonly Entry<AsExpectedEntry>[],
  others: readonly Placed[],
  { report }: Reading,
): readonly Placed<AsExpectedFinding>[] {
  const named = entries
    .flatMap((entry) => readNamed(entry, report))
    .reduce(gatherNamed, new Map<string, Named>());
  const exceptions = new Set(others.flatMap(({ finding }) => exceptionsOf(finding)));
  return [...named.values()].flatMap((one) => {
    reportNotAssessed(one, others, report);
    const finding = expectedOf(one, exceptions);
    return finding.aspects.length > 0 ? [{ finding, place: one.place }] : [];
  });
}

interface Named {
  readonly joint: string;
  readonly side?: Side;
  readonly aspects: readonly Aspect[];
  readonly describe?: string;
  readonly typed?: string;
  readonly place: string;
}

function readNamed({ entry, place }: Entry<AsExpectedEntry>, report: Report): readonly Named[] {
  const joints = readNamedJoints(entry.joints, place, report) ?? [];
  const { sides, aspects = EVERY_ASPECT, describe, typed } = entry;
  return joints.flatMap((joint) =>
    jointSides(joint, sides, aspects, place, report).map((at) =>
      given({ joint: joint.id, side: at.side, aspects: at.aspects, describe, typed, place }),
    ),
  );
}

/** A joint side that is named twice is named once, with the aspects of both. */
function gatherNamed(known: Map<string, Named>, one: Named): Map<string, Named> {
  const key = atJoint(one.joint, one.side);
  const earlier = known.get(key);
  const aspects = EVERY_ASPECT.filter(
    (aspect) => one.aspects.includes(aspect) || earlier?.aspects.includes(aspect) === true,
  );
  return known.set(key, { ...one, ...earlier, aspects });
}

function expectedOf(
  { joint, side, aspects, describe, typed }: Named,
  exceptions: ReadonlySet<string>,
): AsExpectedFinding {
  const items = expectedItems(joint, aspects).filter(({ id }) => !exceptions.has(atItem(joint, side, id)));
  const movementsFor = (aspect: 'range' | 'strength'): readonly string[] =>
    aspects.includes(aspect)
      ? expectedMovements(joint, aspect)
          .flatMap(asEntries)
          .filter((entry) => !exceptions.has(atMovement(aspect, entry, side)))
      : [];
  const range = movementsFor('range');
  const strength = movementsFor('strength');
  const said: Readonly<Record<Aspect, boolean>> = {
    look: items.some(({ aspect }) => aspect === 'look'),
    feel: items.some(({ aspect }) => aspect === 'feel'),
    range: range.length > 0,
    strength: strength.length > 0,
  };
  return given({
    kind: 'as-expected' as const,
    joint,
    side,
    aspects: EVERY_ASPECT.filter((aspect) => said[aspect]),
    items: items.map(({ id }) => id),
    range,
    strength,
    definition: withinExpectedDefinition.version,
    describe,
    typed,
  });
}

/** A movement to the left and to the right is two entries: `neck.rotation>left`. */
function asEntries({ id, sideRule }: Movement): readonly string[] {
  return sideRule === 'direction' ? [`${id}>left`, `${id}>right`] : [id];
}

const atJoint = (joint: string, side = ''): string => `${joint}|${side}`;
const atItem = (joint: string, side: string | undefined, item: string): string =>
  `item|${atJoint(joint, side)}|${item}`;
const atMovement = (aspect: string, entry: string, side = ''): string => `${aspect}|${entry}|${side}`;

/** What a finding says by itself, so that "within expected limits" does not say it too. */
function exceptionsOf(finding: Finding): readonly string[] {
  switch (finding.kind) {
    case 'look-feel':
      return finding.items.map(({ item }) => atItem(finding.joint, finding.side, item));
    case 'range':
    case 'strength': {
      const { kind, movement, direction, side } = finding;
      return [atMovement(kind, direction === undefined ? movement : `${movement}>${direction}`, side)];
    }
    case 'grip':
      return [atMovement('strength', 'hand.grip', finding.side)];
    case 'not-assessed':
      return notAssessedExceptions(finding);
    case 'measure':
    case 'pain':
    case 'as-expected':
    case 'screen':
    case 'neurovascular':
    case 'gait':
    case 'on-body':
    case 'absent-part':
      return [];
  }
}

/** Single movements that were left out; whole aspects contradict. A passive one says nothing of the active. */
function notAssessedExceptions({
  movements = [],
  aspects,
  side,
  mode,
}: NotAssessedFinding): readonly string[] {
  if (mode === 'passive') return [];
  const entries = movements.flatMap((movement) => [movement, `${movement}>left`, `${movement}>right`]);
  return aspects.flatMap((aspect) => entries.map((entry) => atMovement(aspect, entry, side)));
}

function reportNotAssessed(named: Named, others: readonly Placed[], report: Report): void {
  for (const { finding, place } of others) {
    if (finding.kind !== 'not-assessed' || finding.joint !== named.joint || finding.side !== named.side)
      continue;
    if (finding.movements !== undefined || finding.mode === 'passive') continue;
    const twice = named.aspects.filter((aspect) => finding.aspects.includes(aspect));
    if (twice.length > 0) report(bothWays(jointName(named.joint, named.side), twice, named.place, place));
  }
}

function bothWays(
  name: string,
  aspects: readonly Aspect[],
  place: string,
  other: string,
): ReturnType<typeof formIssue> {
  const sentence = `The ${name} is given as examined and at ${other} as not assessed (${listed(aspects, 'and')}): it is one or the other.`;
  return formIssue('examined-and-not-assessed', place, sentence, { found: aspects, allowed: other });
}

/**
 * Settles what the document says twice: look and feel of one joint side become one finding; the same item with the
 * same value is told and kept once, with different values it is refused at both places.
 */
export function settleTwice(placed: readonly Placed[], { report }: Reading): readonly Placed[] {
  return keepOnce(mergeSeen(placed, report), report);
}

function mergeSeen(placed: readonly Placed[], report: Report): readonly Placed[] {
  const merged = new Map<string, Placed<LookFeelFinding>>();
  for (const { finding, place } of placed) {
    if (finding.kind !== 'look-feel') continue;
    const key = findingKey(finding);
    const earlier = merged.get(key);
    const here = { finding, place };
    merged.set(
      key,
      earlier
        ? joinSeen(earlier, here, report)
        : joinSeen({ ...here, finding: { ...finding, items: [] } }, here, report),
    );
  }
  const done = new Set<string>();
  return placed.flatMap((one) => {
    const key = findingKey(one.finding);
    const whole = one.finding.kind === 'look-feel' ? merged.get(key) : one;
    if (whole === undefined || (whole !== one && done.has(key))) return [];
    done.add(key);
    return [whole];
  });
}

function joinSeen(
  earlier: Placed<LookFeelFinding>,
  { finding, place }: Placed<LookFeelFinding>,
  report: Report,
): Placed<LookFeelFinding> {
  const items = finding.items.reduce<readonly LookFeelItem[]>((known, item) => {
    const same = known.find((one) => one.item === item.item);
    if (!same) return [...known, item];
    const name = `${jointName(finding.joint, finding.side)} ${itemName(item.item)}`;
    reportTwice(name, [same.value, item.value], [earlier.place, place], report);
    return known;
  }, earlier.finding.items);
  const describe = joined(earlier.finding.describe, finding.describe);
  const typed = joined(earlier.finding.typed, finding.typed);
  const { kind, joint, side } = finding;
  return {
    place: earlier.place,
    finding: given({ kind, joint, side, items: seenBeforeFelt(items), describe, typed }),
  };
}

/** As one entry has them, so that entries that were joined are the same when they are read from one. */
function seenBeforeFelt(items: readonly LookFeelItem[]): readonly LookFeelItem[] {
  const isSeen = ({ item }: LookFeelItem): boolean => findLookFeelItem(item)?.aspect !== 'feel';
  return [...items.filter(isSeen), ...items.filter((item) => !isSeen(item))];
}

function joined(one: string | undefined, other: string | undefined): string | undefined {
  if (one === undefined || other === undefined || one === other) return one ?? other;
  return `${one}; ${other}`;
}

function reportTwice(
  name: string,
  [one, other]: readonly [string, string],
  [place, later]: readonly [string, string],
  report: Report,
): void {
  if (one === other) {
    const sentence = `The ${name} is given twice with the same value; it is stored once.`;
    report(formIssue('given-twice', later, sentence, { severity: 'info', found: one }));
    return;
  }
  const sentence = `The ${name} is given twice with different values: ${one} and ${other}.`;
  report(formIssue('given-twice', place, sentence, { found: one, allowed: later }));
  if (later !== place) report(formIssue('given-twice', later, sentence, { found: other, allowed: place }));
}

function keepOnce(placed: readonly Placed[], report: Report): readonly Placed[] {
  const known = new Map<string, Placed>();
  return placed.filter((one) => {
    const key = findingKey(one.finding);
    const earlier = known.get(key);
    if (!earlier) {
      known.set(key, one);
      return true;
    }
    const values = [valueOf(earlier.finding), valueOf(one.finding)] as const;
    reportTwice(nameFinding(one.finding), values, [earlier.place, one.place], report);
    return false;
  });
}

/** What a finding says of its item, without the free words about it. */
function valueOf(finding: Finding): string {
  switch (finding.kind) {
    case 'range':
      return Object.entries(finding.extent)
        .map(([name, value]) => `${name} ${value}`)
        .join(' ');
    case 'strength':
      return `grade ${finding.grade}`;
    case 'grip':
      return `${listed(finding.trials, 'and')} ${finding.unit}`;
    case 'measure':
      return `${finding.value} ${finding.unit}`;
    case 'pain':
      return finding.score;
    case 'look-feel':
      return finding.items.map(({ item, value }) => `${item} ${value}`).join(', ');
    case 'as-expected':
      return 'as expected';
    case 'not-assessed':
      return finding.reason;
    case 'screen':
      return finding.result;
    case 'neurovascular':
      return finding.elements
        .map(({ element, comparator = '', value }) => `${element} ${comparator}${value}`)
        .join(', ');
    case 'gait':
      return [finding.pattern, finding.assistance, finding.device]
        .filter((word) => word !== undefined)
        .join(', ');
    case 'on-body':
      return [finding.device, finding.since, finding.until].filter((word) => word !== undefined).join(' ');
    case 'absent-part':
      return finding.level;
  }
}
