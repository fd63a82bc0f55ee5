import fc from 'fast-check';
import {
  bodyDevices,
  expectedItems,
  findMovement,
  gaitWords,
  gripDevices,
  gripRules,
  joints,
  lookFeelItemsOf,
  lookFeelWordsOf,
  measures,
  movements,
  movementsOf,
  neurovascularElements,
  notAssessedReasons,
  positions,
  precautions,
  rangeMethods,
  screenResults,
  screens,
  strengthGrades,
  type Aspect,
  type Joint,
  type Movement,
  type Side,
} from '../../src/catalogue/index.js';
import type { Exam, Finding } from '../../src/exam/exam.js';

/** Leaves out the keys that were drawn as undefined, as a document leaves out what is not said. */
function said(record: Readonly<Record<string, fc.Arbitrary<unknown>>>): fc.Arbitrary<object> {
  return fc
    .record(record)
    .map((drawn) => Object.fromEntries(Object.entries(drawn).filter(([, held]) => held !== undefined)));
}

const maybe = <T>(drawn: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(drawn, { nil: undefined });

/** Free words with all that people type: accents, line breaks inside, digits, quotes. */
const freeText = fc
  .string({ unit: 'grapheme', minLength: 1, maxLength: 40 })
  .map((text) => text.replace(/[\p{C}]/gu, ' ').trim())
  .filter((text) => text !== '');

const digits = fc
  .tuple(fc.nat(30), maybe(fc.stringMatching(/^[0-9]{1,3}$/)))
  .map(([whole, part]) => (part === undefined ? String(whole) : `${whole}.${part}`));

/** Numbers within every limit: what is drawn here is mostly taken by the reader of documents too. */
const score = fc.constantFrom('0', '3', '7.5', '10', '10.0', '4.50');

const side = fc.constantFrom<Side>('left', 'right');
const mode = fc.constantFrom('active' as const, 'active-assisted' as const, 'passive' as const);
const moment = fc
  .tuple(
    fc.integer({ min: 1_770_000_000, max: 1_780_000_000 }),
    fc.constantFrom('-05:00', '+00:00', '+05:45'),
  )
  .map(([seconds, offset]) => new Date(seconds * 1000).toISOString().replace('.000Z', offset));

const ids = (rows: readonly { readonly id: string }[]): fc.Arbitrary<string> =>
  fc.constantFrom(...rows.map(({ id }) => id));

const common = { describe: maybe(freeText), typed: maybe(freeText) };

const sideOfJoint = (joint: Joint): fc.Arbitrary<Side | undefined> =>
  joint.structure === 'paired' ? side : fc.constant(undefined);

const sideOfMovement = (
  movement: Movement,
): { side: fc.Arbitrary<Side | undefined>; direction: fc.Arbitrary<Side | undefined> } => ({
  side: movement.sideRule === 'per-side' ? side : fc.constant(undefined),
  direction: movement.sideRule === 'direction' ? side : fc.constant(undefined),
});

const extent = (movement: Movement): fc.Arbitrary<unknown> => {
  const word = fc.record({ word: fc.constantFrom('full', 'limited', 'absent') });
  if (movement.measure === 'degrees' && movement.limits !== undefined && 'lacks' in movement.limits) {
    return fc.oneof(word, fc.record({ lacks: digits }), fc.record({ hyperextends: digits }));
  }
  if (movement.measure === 'degrees') return fc.oneof(word, fc.record({ degrees: digits }));
  return movement.measure === 'mm' ? fc.oneof(word, fc.record({ millimetres: digits })) : word;
};

/** A digit, or a joint of a digit, where the catalogue has the site. */
const digitSites: Readonly<Record<string, readonly { digit?: string; digitJoint?: string }[]>> = {
  fingers: [
    {},
    { digit: 'index' },
    { digit: 'ring', digitJoint: 'pip' },
    { digit: 'little', digitJoint: 'mcp' },
  ],
  thumb: [{}, { digitJoint: 'ip' }, { digitJoint: 'mcp' }, { digitJoint: 'cmc' }],
  toes: [
    {},
    { digit: 'great' },
    { digit: 'great', digitJoint: 'mtp' },
    { digit: 'third', digitJoint: 'pip' },
  ],
};

const measurable = movements.filter(({ id }) => id !== 'hand.grip');

const range = fc.constantFrom(...measurable).chain((movement) =>
  fc
    .tuple(
      said({
        kind: fc.constant('range'),
        movement: fc.constant(movement.id),
        ...sideOfMovement(movement),
        mode,
        extent: extent(movement),
        method: maybe(ids(rangeMethods)),
        limitedBy: maybe(freeText),
        ...common,
      }),
      fc.constantFrom(...(digitSites[movement.joint] ?? [{}])),
    )
    .map(([finding, digit]) => ({ ...finding, ...digit }) as Finding),
);

const strength = fc
  .constantFrom(...measurable.filter((movement) => movement.strengthTestable))
  .chain((movement) =>
    said({
      kind: fc.constant('strength'),
      movement: fc.constant(movement.id),
      ...sideOfMovement(movement),
      grade: fc.constantFrom(...strengthGrades.map(({ grade }) => grade)),
      limitedBy: maybe(freeText),
      gravityEliminated: maybe(fc.boolean()),
      ...common,
    }).map((finding) => finding as Finding),
  );

const grip = said({
  kind: fc.constant('grip'),
  side,
  trials: fc.array(digits, { minLength: 1, maxLength: 6 }),
  unit: fc.constantFrom('kg', 'lb', 'N'),
  rule: ids(gripRules),
  device: maybe(ids(gripDevices)),
  handlePosition: maybe(fc.integer({ min: 1, max: 5 })),
  dominant: maybe(fc.boolean()),
  ...common,
}).map((finding) => finding as Finding);

const measure = fc.constantFrom(...measures).chain((row) =>
  fc.constantFrom(...(row.joints.length === 0 ? [undefined] : row.joints)).chain((joint) =>
    said({
      kind: fc.constant('measure'),
      measure: fc.constant(row.id),
      joint: fc.constant(joint),
      side: row.side === 'per-side' ? side : fc.constant(undefined),
      level: maybe(freeText),
      value: digits,
      unit: fc.constantFrom(...row.inputs.map(({ unit }) => unit)),
      method: maybe(ids(rangeMethods)),
      ...common,
    }).map((finding) => finding as Finding),
  ),
);

const pain = fc.constantFrom(undefined, ...joints).chain((joint) =>
  fc.constantFrom(undefined, ...(joint ? movementsOf(joint.id) : [])).chain((movement) =>
    said({
      kind: fc.constant('pain'),
      score,
      when: fc.constantFrom('rest', 'movement'),
      joint: fc.constant(movement ? undefined : joint?.id),
      side: joint ? sideOfJoint(joint) : maybe(side),
      movement: fc.constant(movement?.id),
      direction: movement ? sideOfMovement(movement).direction : fc.constant(undefined),
      mode: movement ? mode : fc.constant(undefined),
      ...common,
    }).map((finding) => finding as Finding),
  ),
);

const lookFeel = fc.constantFrom(...joints).chain((joint) =>
  said({
    kind: fc.constant('look-feel'),
    joint: fc.constant(joint.id),
    side: sideOfJoint(joint),
    items: fc.subarray([...lookFeelItemsOf(joint.id)], { minLength: 1 }).chain((items) =>
      fc.tuple(
        ...items.map((item) =>
          said({
            item: fc.constant(item.id),
            value: ids(lookFeelWordsOf(item, joint.id)),
            describe: maybe(freeText),
          }),
        ),
      ),
    ),
    ...common,
  }).map((finding) => finding as Finding),
);

const aspects = fc.subarray<Aspect>(['look', 'feel', 'range', 'strength'], { minLength: 1 });

const moved = (joint: Joint): readonly string[] =>
  movementsOf(joint.id)
    .filter(({ id, sideRule }) => id !== 'hand.grip' && (joint.id !== 'jaw' || sideRule !== 'per-side'))
    .flatMap(({ id, sideRule }) => (sideRule === 'direction' ? [`${id}>left`, `${id}>right`] : [id]));

const asExpected = fc.constantFrom(...joints).chain((joint) =>
  said({
    kind: fc.constant('as-expected'),
    joint: fc.constant(joint.id),
    side: sideOfJoint(joint),
    aspects,
    items: fc.subarray(expectedItems(joint.id).map(({ id }) => id)),
    range: fc.subarray([...moved(joint)]),
    strength: fc.subarray(
      moved(joint).filter((id) => findMovement(id.split('>')[0] ?? '')?.strengthTestable),
    ),
    definition: fc.constantFrom('2026-1', '2027-3'),
    describe: maybe(freeText),
  }).map((finding) => finding as Finding),
);

const notAssessed = fc
  .oneof(
    fc.constantFrom(...joints).chain((joint) =>
      said({
        kind: fc.constant('not-assessed'),
        joint: fc.constant(joint.id),
        side: sideOfJoint(joint),
        aspects,
        movements: maybe(
          fc.subarray(
            movementsOf(joint.id).map(({ id }) => id),
            { minLength: 1 },
          ),
        ),
        mode: maybe(mode),
        reason: ids(notAssessedReasons),
        note: maybe(freeText),
        describe: maybe(freeText),
      }),
    ),
    said({
      kind: fc.constant('not-assessed'),
      side: maybe(side),
      aspects: fc.constant([]),
      subject: fc.constantFrom('grip', 'pain', 'gait', 'neurovascular', 'circumference', 'hand-squeeze'),
      reason: ids(notAssessedReasons),
      note: maybe(freeText),
    }),
  )
  .map((finding) => finding as Finding);

const screen = said({
  kind: fc.constant('screen'),
  screen: ids(screens),
  result: ids(screenResults),
  ...common,
}).map((finding) => finding as Finding);

const neurovascular = said({
  kind: fc.constant('neurovascular'),
  limb: fc.constantFrom('upper', 'lower'),
  side,
  elements: fc.subarray([...neurovascularElements], { minLength: 1 }).chain((rows) =>
    fc.tuple(
      ...rows.map((row) =>
        row.words.length === 0 || row.number?.comparator === true
          ? said({
              element: fc.constant(row.id),
              value: score,
              comparator:
                row.number?.comparator === true ? maybe(fc.constantFrom('<', '>')) : fc.constant(undefined),
              describe: maybe(freeText),
            })
          : said({ element: fc.constant(row.id), value: ids(row.words), describe: maybe(freeText) }),
      ),
    ),
  ),
  ...common,
}).map((finding) => finding as Finding);

const gait = said({
  kind: fc.constant('gait'),
  pattern: ids(gaitWords.pattern),
  assistance: maybe(ids(gaitWords.assistance)),
  device: maybe(ids(gaitWords.device)),
  ...common,
}).map((finding) => finding as Finding);

const paired = joints.filter(({ structure }) => structure === 'paired').map(({ id }) => id);

const midline = joints.filter(({ structure }) => structure === 'midline').map(({ id }) => id);

/** On a joint in the midline, or on pairs, which have a side, and perhaps one in the midline with them. */
const onBodyAt = fc.oneof(
  fc.record({ joints: fc.constantFrom(...midline).map((id) => [id]), side: fc.constant(undefined) }),
  fc.record({
    joints: fc
      .tuple(
        fc.subarray<string>(midline, { maxLength: 1 }),
        fc.subarray<string>(paired, { minLength: 1, maxLength: 3 }),
      )
      .map((at) => at.flat()),
    side,
  }),
);

const onBody = onBodyAt.chain((at) =>
  said({
    kind: fc.constant('on-body'),
    device: ids(bodyDevices),
    joints: fc.constant(at.joints),
    side: fc.constant(at.side),
    since: maybe(moment),
    until: maybe(moment),
    describe: maybe(freeText),
  }).map((finding) => finding as Finding),
);

const absentPart = said({
  kind: fc.constant('absent-part'),
  joints: fc.subarray<string>(paired, { minLength: 1, maxLength: 3 }),
  side,
  level: freeText,
  describe: maybe(freeText),
}).map((finding) => finding as Finding);

/** One finding of any kind over the whole catalogue. */
export const arbitraryFinding: fc.Arbitrary<Finding> = fc.oneof(
  range,
  strength,
  grip,
  measure,
  pain,
  lookFeel,
  asExpected,
  notAssessed,
  screen,
  neurovascular,
  gait,
  onBody,
  absentPart,
);

const identifier = fc.record({
  system: fc.constantFrom('http://example.org/demo/mrn', 'urn:oid:2.999.1'),
  value: freeText,
});
const staff = said({
  identifier,
  role: maybe(fc.constantFrom('RN', 'PT', 'MD')),
});

/** An exam as it comes out of the reading of a document, with every kind of finding. */
export const arbitraryExam: fc.Arbitrary<Exam> = said({
  clientId: freeText,
  type: fc.constantFrom('full', 'brief-screen', 'focused', 'neurovascular', 'therapist'),
  patient: identifier,
  readBack: said({
    name: maybe(freeText),
    birthDate: maybe(fc.constantFrom('1956', '1956-03', '1956-03-02')),
  }),
  ward: maybe(freeText),
  examiner: staff,
  recorder: maybe(staff),
  performedAt: moment,
  recordedAt: moment,
  lateReason: maybe(freeText),
  positions: fc.subarray(positions.map(({ id }) => id)),
  precautions: fc.array(
    said({
      precaution: fc.oneof(ids(precautions), freeText),
      side: maybe(side),
      note: maybe(freeText),
    }),
    { maxLength: 3 },
  ),
  confirmed: fc.subarray(['VL-07', 'CX-10', 'MV-01']),
  note: maybe(freeText),
  findings: fc.array(arbitraryFinding, { maxLength: 12 }),
}).map((exam) => exam as Exam);
