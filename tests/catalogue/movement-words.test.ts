import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  findMovement,
  joints,
  misnomers,
  movements,
  movementsOf,
  readMovementWord,
  type Target,
  type WordAnswer,
} from '../../src/catalogue/index.js';
import { synonyms, wrongWords } from './words.fixture.js';

/** A target as the fixture writes it. */
function told(target: Target): string {
  if (target.kind === 'look-feel') return `${target.joint}/${target.item}/${target.value}`;
  return target.part ? `${target.movement} ${target.part}` : target.movement;
}

/** Where an answer leads; the choices of a question are sent back to see where each leads. */
function leadsTo(joint: string, answer: WordAnswer): readonly string[] {
  switch (answer.kind) {
    case 'movement':
      return [answer.movement.id];
    case 'chosen':
    case 'normalise':
    case 'suggest':
    case 'rehome':
      return [told(answer.target)];
    case 'ask':
      return answer.choices.flatMap((choice) => leadsTo(joint, readMovementWord(joint, choice)));
    case 'reject':
    case 'unknown':
      return [];
  }
}

describe('the words of a movement', () => {
  it('has 15 joints, 61 movements, 145 synonyms and 98 misnomers', () => {
    expect(joints).toHaveLength(15);
    expect(movements).toHaveLength(61);
    expect(synonyms).toHaveLength(145);
    expect(movements.flatMap((movement) => movement.synonyms)).toHaveLength(145);
    expect(wrongWords).toHaveLength(98);
    expect(misnomers).toHaveLength(98);
  });

  it.each(synonyms)('at the %s takes for %s the synonym "%s"', (joint, movement, said) => {
    const answer = readMovementWord(joint, said);
    expect(answer).toMatchObject({ kind: 'movement', synonym: true, movement: { id: movement } });
  });

  it.each(wrongWords)(
    'at the $joint does with "$said" what is to be done: $action',
    ({ joint, said, action, right }) => {
      const answer = readMovementWord(joint, said);
      expect(answer.kind).toBe(action);
      expect([...leadsTo(joint, answer)].sort()).toEqual([...right].sort());
    },
  );

  it.each(wrongWords.filter(({ action }) => action === 'ask'))(
    'at the $joint takes each choice offered for "$said" when it is sent back',
    ({ joint, said }) => {
      const answer = readMovementWord(joint, said);
      if (answer.kind !== 'ask') throw new Error('not asked');
      const kinds = answer.choices.map((choice) => readMovementWord(joint, choice).kind);
      expect(kinds.length).toBeGreaterThan(0);
      expect(kinds.filter((kind) => kind !== 'movement' && kind !== 'chosen')).toEqual([]);
    },
  );

  it('takes the id, the term and the term without its explanation of every movement', () => {
    for (const { id, joint, term } of movements) {
      for (const said of [id, term, term.replace(/ \(.*\)$/, '')]) {
        expect(readMovementWord(joint, said), `${joint}: ${said}`).toMatchObject({
          kind: 'movement',
          movement: { joint },
        });
      }
      expect(readMovementWord(joint, id)).toMatchObject({ movement: { id } });
      expect(readMovementWord(joint, term)).toMatchObject({ movement: { id }, synonym: false });
    }
  });

  it('gives no word of a joint two meanings', () => {
    for (const { id: joint } of joints) {
      const words = [
        ...movementsOf(joint).flatMap(({ term, synonyms: accepted }) => [term, ...accepted]),
        ...misnomers.filter((row) => row.joint === joint).map(({ said }) => said),
      ].map((word) => word.toLowerCase());
      expect(words.length, joint).toBe(new Set(words).size);
    }
  });

  it('does not mind capitals, hyphens, underscores and spaces', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...synonyms),
        fc.boolean(),
        fc.constantFrom(' ', '-', '_', '  '),
        ([joint, movement, said], capitals, gap) => {
          const written = ` ${(capitals ? said.toUpperCase() : said).replaceAll(/[ -]/g, gap)} `;
          expect(readMovementWord(joint, written)).toMatchObject({
            kind: 'movement',
            movement: { id: movement },
          });
        },
      ),
    );
  });

  it('answers any text at any joint, never throws, and names only movements that exist', () => {
    const places = fc.constantFrom(...joints.map(({ id }) => id), 'no-such-joint');
    fc.assert(
      fc.property(
        places,
        fc.oneof(fc.string({ unit: 'binary' }), fc.constantFrom('constructor', '__proto__', '')),
        (joint, said) => {
          for (const end of leadsTo(joint, readMovementWord(joint, said))) {
            const [id = ''] = end.split(' ');
            expect(end.includes('/') || findMovement(id) !== undefined).toBe(true);
          }
        },
      ),
    );
  });

  it.each([
    ['hip', 'ABD', 'suggest', ['hip.abduction']],
    ['hip', 'ADD', 'suggest', ['hip.adduction']],
    ['wrist', 'DF', 'suggest', ['wrist.extension']],
    ['wrist', 'PF', 'suggest', ['wrist.flexion']],
    ['forearm', 'IR', 'suggest', ['forearm.pronation']],
    ['knee', 'ER', 'rehome', ['hip.external-rotation']],
    ['knee', 'ABD', 'ask', ['knee/deformity/valgus', 'hip.abduction']],
    ['elbow', 'DF', 'reject', []],
  ] as const)(
    'at the %s asks before it takes the abbreviation %s (common practice: %s)',
    (joint, said, kind, ends) => {
      const answer = readMovementWord(joint, said);
      expect(answer.kind).toBe(kind);
      expect(leadsTo(joint, answer)).toEqual(ends);
    },
  );

  it.each(['shoulder', 'hip', 'forearm'])('asks for the direction of bare rotation at the %s', (joint) => {
    expect(readMovementWord(joint, 'rotation').kind).toBe('ask');
  });

  it.each([
    ['knee', 'valgus', 'knee/deformity/valgus'],
    ['knee', 'contracture', 'knee/deformity/contracture'],
    ['ankle', 'foot drop', 'ankle/deformity/foot-drop'],
    ['wrist', 'wrist drop', 'wrist/deformity/wrist-drop'],
    ['fingers', 'ulnar drift', 'fingers/deformity/ulnar-drift'],
    ['thoracolumbar', 'kyphosis', 'thoracolumbar/kyphosis/present'],
    ['thoracolumbar', 'lordosis', 'thoracolumbar/lordosis/present'],
    ['hip', 'shortened and turned out', 'hip/deformity/shortened-turned-out'],
  ])('files %s, %s under what is seen, since it is no movement', (joint, said, end) => {
    const answer = readMovementWord(joint, said);
    expect(answer.kind).toBe('rehome');
    expect(leadsTo(joint, answer)).toEqual([end]);
  });

  it('offers a movement at its own joint when it is sent by id or name under another', () => {
    expect(leadsTo('wrist', readMovementWord('wrist', 'knee.flexion'))).toEqual(['knee.flexion']);
    expect(readMovementWord('wrist', 'flexion of the knee')).toMatchObject({ kind: 'rehome' });
    expect(readMovementWord('knee', 'flexion of the knee')).toMatchObject({ kind: 'movement' });
  });

  it('takes each right word it offers when that is sent back, without another question', () => {
    const offers = misnomers.flatMap(({ joint, said }) => {
      const answer = readMovementWord(joint, said);
      if (answer.kind === 'ask') return answer.choices.map((word) => ({ joint, word }));
      return answer.kind === 'suggest' || answer.kind === 'rehome' ? [{ joint, word: answer.word }] : [];
    });
    expect(offers.length).toBeGreaterThan(80);
    const kinds = offers.map(({ joint, word }) => readMovementWord(joint, word).kind);
    expect(new Set(kinds)).toEqual(new Set(['movement', 'chosen']));
    expect(readMovementWord('elbow', 'pronation')).toMatchObject({ word: 'pronation of the forearm' });
  });

  it('names the allowed terms for a word that means nothing', () => {
    expect(readMovementWord('ankle', 'wobble')).toEqual({
      kind: 'unknown',
      allowed: ['dorsiflexion', 'plantar flexion'],
    });
  });
});
