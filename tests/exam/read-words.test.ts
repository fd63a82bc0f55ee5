import { describe, expect, test } from 'vitest';
import { findJoint, findMovement } from '../../src/catalogue/index.js';
import { synonyms, wrongWords, type WrongWord } from '../catalogue/words.fixture.js';
import { read, readFindings } from './document.fixture.js';

const PLACE = '/findings/0/movement';

/** An entry with the word and a range in words, with side and direction as the movement meant asks for them. */
function entryOf(joint: string, movement: string, right: string): Readonly<Record<string, unknown>> {
  const meant = findMovement(right);
  const isPaired = findJoint(joint)?.structure === 'paired';
  const needsSide = meant === undefined ? isPaired : meant.sideRule === 'per-side';
  return {
    joint,
    movement,
    range: 'limited',
    ...(needsSide && { side: 'left' }),
    ...(meant?.sideRule === 'direction' && { direction: 'left' }),
  };
}

function movementIssues(entry: unknown, confirmed: readonly string[] = []): readonly string[] {
  return readFindings(entry)
    .issues.filter(({ place, code }) => place === PLACE && !confirmed.includes(code))
    .map(({ severity }) => severity);
}

/** Where a right word of the table is filed. */
function filedAt(right: string): Readonly<Record<string, unknown>> {
  const [joint, item, value] = right.replace(' hyperextends', '').split('/');
  return item === undefined
    ? { kind: 'range', movement: joint }
    : { kind: 'look-feel', joint, items: [expect.objectContaining({ item, value })] };
}

const SEVERITIES = {
  normalise: 'info',
  suggest: 'confirm',
  rehome: 'confirm',
  ask: 'error',
  reject: 'error',
} as const;

const told = (words: WrongWord): string => `"${words.said}" at the ${words.joint}`;

describe('a word for a movement', () => {
  test.each(synonyms)('at the %s for %s may be "%s" (accepted synonym)', (joint, movement, said) => {
    const { exam, issues } = readFindings(entryOf(joint, said, movement));
    expect(exam?.findings[0], JSON.stringify(issues)).toMatchObject({ kind: 'range', movement });
    expect(exam?.findings[0]).not.toHaveProperty('typed');
  });

  test.each(wrongWords.map((words) => ({ name: told(words), ...words })))(
    '$name is met with the action "$action"',
    ({ joint, said, action, right }) => {
      expect(movementIssues(entryOf(joint, said, right[0] ?? ''))).toEqual([SEVERITIES[action]]);
    },
  );

  test.each(
    wrongWords
      .filter(({ action }) => action === 'normalise' || action === 'suggest' || action === 'rehome')
      .map((words) => ({ name: told(words), ...words })),
  )(
    '$name is filed as $right.0 once it is confirmed, and the typed word is kept',
    ({ joint, said, right }) => {
      const [meant = ''] = right;
      const { issues } = readFindings(entryOf(joint, said, meant));
      const { exam } = readWith(
        entryOf(joint, said, meant),
        issues.map(({ code }) => code),
      );
      expect(exam?.findings).toEqual([expect.objectContaining({ ...filedAt(meant), typed: said })]);
    },
  );

  test.each(
    wrongWords.filter(({ action }) => action === 'ask').map((words) => ({ name: told(words), ...words })),
  )(
    '$name is asked about, and each choice that is offered is taken when it is sent back',
    ({ joint, said, right }) => {
      const [issue] = readFindings(entryOf(joint, said, right[0] ?? '')).issues.filter(
        ({ place }) => place === PLACE,
      );
      expect(issue?.choices?.length).toBeGreaterThan(0);
      for (const [index, choice] of (issue?.choices ?? []).entries()) {
        const meant = right[index] ?? '';
        const { exam, issues } = readWith(entryOf(joint, choice, meant), ['MV-01', 'MV-04']);
        expect(exam?.findings[0], `${choice}: ${JSON.stringify(issues)}`).toMatchObject(filedAt(meant));
      }
    },
  );

  test('is kept with its value in words where it is seen and not moved', () => {
    const entry = {
      joint: 'fingers',
      side: 'left',
      movement: 'ulnar deviation',
      degrees: 20.5,
      method: 'visual-estimate',
    };
    expect(readWith(entry, ['MV-04']).exam?.findings).toEqual([
      {
        kind: 'look-feel',
        joint: 'fingers',
        side: 'left',
        items: [
          {
            item: 'deformity',
            value: 'ulnar-drift',
            describe: 'given with ulnar deviation: degrees 20.5, method visual-estimate',
          },
        ],
        typed: 'ulnar deviation',
      },
    ]);
  });

  test('"hyperextension" of the knee with degrees is the number past straight', () => {
    const entry = {
      joint: 'knee',
      side: 'left',
      movement: 'hyperextension',
      degrees: 5,
      method: 'goniometer-long-arm',
    };
    expect(readFindings(entry).exam?.findings).toEqual([
      expect.objectContaining({
        movement: 'knee.extension',
        extent: { hyperextends: '5' },
        typed: 'hyperextension',
      }),
    ]);
  });

  test('that no joint knows is refused with the words the joint has', () => {
    expect(readFindings({ joint: 'knee', side: 'left', movement: 'wiggle', range: 'full' }).issues).toEqual([
      expect.objectContaining({
        severity: 'error',
        code: 'MV-01',
        found: 'wiggle',
        allowed: ['flexion', 'extension'],
      }),
    ]);
  });
});

function readWith(entry: unknown, confirmed: readonly string[]): ReturnType<typeof readFindings> {
  return read({ findings: [entry], confirmed });
}
