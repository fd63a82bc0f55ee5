import { describe, expect, it } from 'vitest';
import {
  bodyDevices,
  circumferenceLevels,
  expectedItems,
  expectedMovements,
  findBodyDevice,
  findGaitWord,
  findLookFeelItem,
  findMovement,
  findNotAssessedReason,
  findPrecaution,
  findScreen,
  findScreenResult,
  gaitWords,
  gripDevices,
  gripRules,
  joints,
  limitedByWords,
  lookFeelItems,
  lookFeelItemsOf,
  measures,
  movements,
  movementsOf,
  neurovascularElements,
  notAssessedReasons,
  positions,
  precautions,
  rangeMethods,
  rangeModes,
  rangeWords,
  readLookFeelWord,
  readMovementWord,
  screenResults,
  screens,
  strengthGrades,
  withinExpectedDefinition,
  withinExpectedDefinitions,
} from '../../src/catalogue/index.js';

/** The movement that a bedside cue stands for. */
function movementFor(joint: string, said: string): string | undefined {
  const answer = readMovementWord(joint, said);
  return answer.kind === 'movement' ? answer.movement.id : undefined;
}

// Common practice of the bedside examination; no single publication. Definitions of the movements agree with
// OpenStax, Anatomy and Physiology, chapter 9.5.
describe('the facts of the trade (common practice)', () => {
  it('screen the arms by finger grips and the legs by pushing the feet down, neither a grade nor a force', () => {
    expect(findScreen('finger grips')).toMatchObject({ id: 'hand-squeeze', limb: 'upper' });
    expect(findScreen('push down')).toMatchObject({ id: 'foot-push', limb: 'lower' });
    for (const { notTheSameAs } of screens) expect(notTheSameAs.length).toBeGreaterThan(0);
    expect(findScreenResult('5/5')).toBeUndefined();
  });

  it('end the scale of strength at 5', () => {
    const plain = strengthGrades.filter(({ extended }) => !extended).map(({ grade }) => grade);
    expect(plain).toEqual(['0', '1', '2', '3', '4', '5']);
    expect(Math.max(...strengthGrades.map(({ ordinal }) => ordinal))).toBe(5);
  });

  it.each([
    ['shoulder', 'hands behind head', 'shoulder.external-rotation'],
    ['shoulder', 'hand behind back', 'shoulder.internal-rotation'],
    ['forearm', 'palm up', 'forearm.supination'],
    ['forearm', 'palm down', 'forearm.pronation'],
    ['wrist', 'palmar flexion', 'wrist.flexion'],
    ['wrist', 'toward the thumb', 'wrist.radial-deviation'],
    ['wrist', 'toward the little finger', 'wrist.ulnar-deviation'],
    ['ankle', 'toes down', 'ankle.plantar-flexion'],
    ['ankle', 'toes up', 'ankle.dorsiflexion'],
    ['foot', 'sole in', 'foot.inversion'],
    ['foot', 'sole out', 'foot.eversion'],
    ['neck', 'chin to chest', 'neck.flexion'],
    ['neck', 'look up', 'neck.extension'],
    ['neck', 'chin to shoulder', 'neck.rotation'],
    ['neck', 'ear to shoulder', 'neck.lateral-flexion'],
    ['hip', 'hyperextension', 'hip.extension'],
    ['hip', 'leg across midline', 'hip.adduction'],
  ])('at the %s: "%s" is %s', (joint, said, movement) => {
    expect(movementFor(joint, said)).toBe(movement);
  });

  it('call the wrist turned back extension, though some say dorsiflexion', () => {
    expect(readMovementWord('wrist', 'dorsiflexion')).toMatchObject({
      kind: 'normalise',
      target: { movement: 'wrist.extension' },
    });
  });

  it('never map "wrist inversion" by themselves', () => {
    expect(readMovementWord('wrist', 'inversion')).toMatchObject({
      kind: 'ask',
      choices: ['radial deviation', 'ulnar deviation'],
    });
  });

  it('feel the jaw while it opens and closes, and clench it on both sides', () => {
    const jaw = joints.find(({ id }) => id === 'jaw');
    expect(jaw?.feelFor.join(' ')).toMatch(/opening and closing/);
    expect(jaw?.feelFor.join(' ')).toMatch(/clench on both sides/);
  });

  it('feel for warmth at every joint, and for effusion as one finding at the knee', () => {
    for (const { id } of joints)
      expect(
        expectedItems(id).map((item) => item.id),
        id,
      ).toContain('warmth');
    expect(expectedItems('knee').map(({ id }) => id)).toContain('effusion');
    expect(findLookFeelItem('effusion')?.aspect).toBe('feel');
    expect(expectedItems('elbow').map(({ id }) => id)).not.toContain('effusion');
  });

  it('lie the patient down for the hip and say when privacy left it out', () => {
    expect(joints.find(({ id }) => id === 'hip')?.position).toMatch(/^Lying on the back/);
    expect(findNotAssessedReason('privacy')).toMatchObject({ countsComplete: true });
    expect(findNotAssessedReason('dignity')?.id).toBe('privacy');
  });

  it('look at the back for kyphosis, lordosis and scoliosis and for a hump on forward bend', () => {
    const items = lookFeelItemsOf('thoracolumbar').map(({ id }) => id);
    expect(items).toEqual(expect.arrayContaining(['kyphosis', 'lordosis', 'scoliosis', 'rib-hump']));
    expect(lookFeelItemsOf('knee').map(({ id }) => id)).not.toContain('kyphosis');
  });

  it('mean by "within expected limits" no swelling, redness, deformity, tenderness or warmth, full range and grade 5', () => {
    for (const { id } of joints) {
      const items = expectedItems(id).map((item) => item.id);
      expect(items, id).toEqual(
        expect.arrayContaining(['swelling', 'redness', 'deformity', 'tenderness', 'warmth']),
      );
      expect(expectedMovements(id, 'range').length, id).toBeGreaterThan(0);
    }
    expect(expectedMovements('fingers', 'strength').map(({ id }) => id)).not.toContain('hand.grip');
    expect(expectedItems('knee', ['look']).every(({ aspect }) => aspect === 'look')).toBe(true);
    expect(expectedItems('knee', [])).toEqual([]);
  });

  it('make a full exam of 362 answers: 140 of look and feel, 114 of range, 108 of strength', () => {
    const sides = (joint: string): number =>
      joints.find(({ id }) => id === joint)?.structure === 'paired' ? 2 : 1;
    const times = (rule: string): number => (rule === 'single' ? 1 : 2);
    const five = joints.reduce((sum, { id }) => sum + 5 * sides(id), 0);
    const range = movements.reduce((sum, { sideRule }) => sum + times(sideRule), 0);
    const graded = movements.filter(({ strengthTestable }) => strengthTestable);
    const strength = graded.reduce((sum, { sideRule }) => sum + times(sideRule), 0);
    expect([five, range, strength, five + range + strength]).toEqual([140, 114, 108, 362]);
  });

  it('check a limb at risk by eight elements, with the three that charts leave out', () => {
    // Elements: CM-11 of the documentation checks; those left out: Bone & Joint audit of charts, 2024.
    expect(new Set(neurovascularElements.map(({ group }) => group)).size).toBe(8);
    const ids = neurovascularElements.map(({ id }) => id);
    expect(ids).toEqual(expect.arrayContaining(['pain-passive-stretch', 'sensation', 'capillary-refill']));
  });
});

describe('the definition of within expected limits', () => {
  it('keeps the wording of a version once it is in use; another wording is another version', () => {
    expect(withinExpectedDefinitions.find(({ version }) => version === '2026-1')?.wording).toEqual({
      look: 'Looked at: no swelling, no redness, no deformity; the back also straight from behind with its usual curves.',
      feel: 'Felt: no tenderness, no warmth beyond the other side; the knee also without effusion.',
      range: 'Each movement asked for: full active range.',
      strength: 'Each movement that is graded: grade 5 of 5.',
    });
    expect(new Set(withinExpectedDefinitions.map(({ version }) => version)).size).toBe(
      withinExpectedDefinitions.length,
    );
    expect(withinExpectedDefinition).toBe(withinExpectedDefinitions.at(-1));
  });

  it('says every item that it expands to', () => {
    const named = new Set(['swelling', 'redness', 'deformity', 'tenderness', 'warmth', 'effusion']);
    const curves = new Set(['kyphosis', 'lordosis', 'scoliosis']);
    for (const { id } of joints) {
      for (const item of expectedItems(id)) {
        expect(named.has(item.id) || (id === 'thoracolumbar' && curves.has(item.id)), item.id).toBe(true);
      }
    }
  });
});

describe('what a joint shows', () => {
  it('has an expected answer among the words of each item at each joint it is told of', () => {
    for (const { id: joint } of joints) {
      for (const item of lookFeelItemsOf(joint)) {
        expect(readLookFeelWord(item, joint, item.expected)?.id, `${joint} ${item.id}`).toBe(item.expected);
      }
    }
  });

  it('gives no word of an item two meanings at a joint', () => {
    for (const { id: joint } of joints) {
      for (const item of lookFeelItemsOf(joint)) {
        const words = item.words
          .filter(({ joints: at }) => !at || at.some((one) => one === joint))
          .flatMap(({ id, label, synonyms }) => [...new Set([id, label, ...synonyms].map(fold))]);
        expect(new Set(words).size, `${joint} ${item.id}`).toBe(words.length);
      }
    }
  });

  it('takes a drop or a drift only where the body has it', () => {
    const deformity = findLookFeelItem('deformity');
    if (!deformity) throw new Error('no deformity');
    expect(readLookFeelWord(deformity, 'ankle', 'foot drop')?.id).toBe('foot-drop');
    expect(readLookFeelWord(deformity, 'wrist', 'foot drop')).toBeUndefined();
    expect(readLookFeelWord(deformity, 'hip', 'shortened and turned out')?.id).toBe('shortened-turned-out');
    expect(readLookFeelWord(deformity, 'knee', 'knock-kneed')?.id).toBe('valgus');
  });
});

function fold(word: string): string {
  return word.toLowerCase().replaceAll(/[\s_-]+/g, ' ');
}

describe('the rows of the catalogue', () => {
  it('give every movement a joint, an opposite that points back, and a limit where it is measured', () => {
    for (const { id, joint, opposite, measure, limits } of movements) {
      expect(
        joints.some((row) => row.id === joint),
        id,
      ).toBe(true);
      if (opposite) expect(findMovement(opposite)?.opposite, id).toBe(id);
      expect(limits !== undefined, id).toBe(measure === 'degrees' || measure === 'mm');
    }
  });

  it('give a side to the movements of paired joints only, but for the jaw, which moves as one', () => {
    for (const { id, structure } of joints) {
      const rules = new Set(movementsOf(id).map(({ sideRule }) => sideRule));
      const expected = structure === 'paired' && id !== 'jaw';
      expect(rules.has('per-side'), id).toBe(expected);
      if (expected) expect([...rules]).toEqual(['per-side']);
    }
  });

  it.each([
    ['declined', 'asked-declined'],
    ['absent-part', 'not-applicable'],
    ['precaution', 'not-performed'],
    ['privacy', 'not-performed'],
    ['no-time', 'not-performed'],
  ])('write the reason %s as the data-absent-reason %s (HL7 Terminology)', (reason, code) => {
    expect(findNotAssessedReason(reason)?.dataAbsentReason.code).toBe(code);
  });

  it('count ten of thirteen reasons as complete, and leave one out of the count', () => {
    expect(notAssessedReasons).toHaveLength(13);
    expect(notAssessedReasons.filter(({ countsComplete }) => countsComplete)).toHaveLength(10);
    expect(notAssessedReasons.filter(({ excluded }) => excluded).map(({ id }) => id)).toEqual(['off-unit']);
    expect(notAssessedReasons.filter(({ needsDetail }) => needsDetail).map(({ id }) => id)).toEqual([
      'declined',
      'pain',
      'precaution',
      'suspected-injury',
      'instability',
    ]);
  });

  it('ask about a value inside a cast or frame, and not under a sling', () => {
    expect(findBodyDevice('plaster')?.covering).toBe(true);
    expect(findBodyDevice('ex-fix')?.covering).toBe(true);
    expect(findBodyDevice('sling')?.covering).toBe(false);
    expect(bodyDevices.filter(({ replacesPart }) => replacesPart).map(({ id }) => id)).toEqual([
      'prosthesis',
    ]);
  });

  it('forbid by an order only movements and joints that exist', () => {
    const ids = new Set<string>([...movements, ...joints].map(({ id }) => id));
    const rows = [
      'posterior hip precautions',
      'shoulder replacement',
      'spine precautions',
      'NWB',
      'bleed risk',
    ];
    for (const said of rows) {
      const row = findPrecaution(said);
      expect(row, said).toBeDefined();
      for (const { joints: at = [], movements: of = [] } of row?.forbids ?? []) {
        expect([...at, ...of].filter((id) => !ids.has(id))).toEqual([]);
      }
    }
    expect(findPrecaution('posterior approach')?.forbids[0]?.movements).toEqual([
      'hip.adduction',
      'hip.internal-rotation',
    ]);
  });

  it('give no word of a list two meanings', () => {
    const lists = {
      bodyDevices,
      circumferenceLevels,
      ...gaitWords,
      gripDevices,
      gripRules,
      joints,
      limitedByWords,
      lookFeelItems,
      measures,
      neurovascularElements,
      notAssessedReasons,
      positions,
      precautions,
      rangeMethods,
      rangeModes,
      rangeWords,
      screenResults,
      screens,
      ...Object.fromEntries(neurovascularElements.map(({ id, words }) => [id, words])),
    };
    for (const [list, rows] of Object.entries(lists)) {
      const owners = new Map<string, string>();
      for (const { id, synonyms } of rows) {
        for (const word of [id, ...synonyms].map(fold)) {
          expect(owners.get(word) ?? id, `${list}: ${word}`).toBe(id);
          owners.set(word, id);
        }
      }
    }
  });

  it('tell walking by pattern, help and device', () => {
    expect(findGaitWord('assistance', 'stand-by')?.id).toBe('supervised');
    expect(findGaitWord('device', 'walker')?.id).toBe('walking-frame');
    expect(findGaitWord('pattern', 'walks steadily')?.id).toBe('steady');
    expect(findGaitWord('pattern', 'walker')).toBeUndefined();
  });
});
