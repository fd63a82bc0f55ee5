import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { joints, type Aspect } from '../../src/catalogue/index.js';
import { readExam, type Finding } from '../../src/exam/index.js';
import { stringifyJson } from '../../src/fhir/index.js';
import { documentOf, issuesOf, NOW, read, readFindings } from './document.fixture.js';

describe('the text of a document', () => {
  test.each([
    ['', 'json-syntax', ''],
    ['{"clientId": ', 'json-syntax', '/clientId'],
    ['{"clientId": "a", "clientId": "b"}', 'json-duplicate-key', '/clientId'],
    ['[]', 'wrong-type', ''],
    ['null', 'wrong-type', ''],
    ['30.50', 'wrong-type', ''],
  ])('%j is refused as %s', (text, code, place) => {
    const { exam, issues } = readExam(text, NOW);
    expect(exam).toBeUndefined();
    expect(issues.map((issue) => [issue.severity, issue.code, issue.place])).toContainEqual([
      'error',
      code,
      place,
    ]);
  });

  test('is read whatever it is, without a throw (property)', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'binary' }), fc.json()), (text) => {
        expect(readExam(text, NOW).exam).toBeUndefined();
      }),
      { numRuns: 500 },
    );
  });

  test('is read without a throw when any one value of a document is replaced by any other (property)', () => {
    const places = placesIn(WHOLE);
    fc.assert(
      fc.property(fc.constantFrom(...places), fc.jsonValue(), (place, value) => {
        const { exam, issues } = readExam(JSON.stringify(replaceAt(WHOLE, place, value)), NOW);
        expect(
          exam !== undefined || issues.some(({ severity }) => severity === 'error' || severity === 'confirm'),
        ).toBe(true);
      }),
      { numRuns: 1500 },
    );
  });

  test('with faults in several places has them all told at once', () => {
    const reading = read({
      performedAt: 'today',
      findings: [
        { joint: 'knee', look: { swelling: 'none' } },
        { joint: 'kneee', side: 'left' },
        { joint: 'knee', side: 'left', movement: 'flexion', strength: 6 },
        { screen: 'hand-squeeze', result: 'so-so' },
      ],
      notAssessed: [{ joints: ['hip'], reason: 'busy' }],
    });
    expect(issuesOf(reading)).toEqual([
      'error TM-01 /performedAt',
      'error LT-01 /findings/0/side',
      'error unknown-joint /findings/1/joint',
      'error SC-01 /findings/2/strength',
      'error unknown-word /findings/3/result',
      'error CM-05 /notAssessed/0/reason',
    ]);
  });
});

describe('the faults of one entry', () => {
  test.each([
    [
      'a movement without its side',
      { findings: [{ joint: 'knee', movement: 'flexion', degrees: 999, strength: 9, pain: 12 }] },
      ['LT-01 side', 'SC-01 strength', 'VL-11 pain', 'VL-01 degrees'],
    ],
    [
      'a word to be asked about',
      { findings: [{ joint: 'wrist', side: 'left', movement: 'inversion', strength: '5+', pain: 11 }] },
      ['MV-01 movement', 'SC-02 strength', 'VL-11 pain'],
    ],
    [
      'a number in quotes',
      { findings: [{ joint: 'knee', side: 'left', movement: 'inversion', degrees: '60' }] },
      ['VL-13 degrees', 'MV-01 movement'],
    ],
    [
      'a grip without its side',
      { findings: [{ measure: 'grip', trials: [95], unit: 'kg', rule: 'best' }] },
      ['LT-01 side', 'trial-count trials', 'VL-08 trials/0'],
    ],
    [
      'a girth without joint and side',
      { findings: [{ measure: 'circumference', value: 900, unit: 'cm' }] },
      ['joint-missing joint', 'LT-01 side', 'out-of-limits value'],
    ],
    [
      'a time that is none',
      { onBody: [{ device: 'tattoo', joints: ['flipper'], side: 'left', since: 'yesterday' }] },
      ['TM-01 since', 'unknown-word device', 'unknown-joint joints/0'],
    ],
    [
      'a level that is missing',
      { absent: [{ joints: ['flipper'], side: 'left' }] },
      ['missing level', 'unknown-joint joints/0'],
    ],
    [
      'an aspect that is none',
      { asExpected: [{ joints: ['flipper'], sides: 'both', aspects: ['smell'] }] },
      ['unknown-word aspects/0', 'unknown-joint joints/0'],
    ],
  ])('are all told at once: %s', (_, said, faults) => {
    const told = issuesOf(read(said)).filter((line) => line.startsWith('error'));
    const [part] = Object.keys(said);
    expect(told).toEqual(faults.map((fault) => `error ${fault.replace(' ', ` /${part ?? ''}/0/`)}`));
  });

  test('are told beside those of the head', () => {
    const knee = { joint: 'knee', side: 'left', movement: 'flexion', range: 'absent', strength: 5 };
    const told = issuesOf(read({ type: 'yearly', clientId: '', extra: 1, findings: [knee] }));
    expect(told.filter((line) => line.startsWith('error'))).toEqual([
      'error empty /clientId',
      'error unknown-word /type',
      'error unknown-property /extra',
      'error CX-02 /findings/0/strength',
    ]);
  });

  test('do not make a refused element of a neurovascular check a missing one too', () => {
    const elements = { colour: 'purplish', pulse: 'normal' };
    const { issues } = readFindings({ check: 'neurovascular', limb: 'upper', side: 'left', elements });
    const lacking = issues.find(({ code }) => code === 'CM-11')?.sentence;
    expect(lacking).toMatch(/lacks pain at rest/);
    expect(lacking).not.toMatch(/colour|pulse/);
  });

  test('point to the right part of the document where something was "not assessed"', () => {
    const { issues } = readFindings({ screen: 'foot-pull', result: 'not assessed' });
    expect(issues[0]?.sentence).toBe(
      '"not assessed" is no result of a screen: what was left out goes into "notAssessed" with its reason.',
    );
  });
});

describe('the form of a document', () => {
  test.each([
    ['{"examiner": 1.5}', 'wrong-type', '/examiner', '"examiner" is an object, not a number.'],
    ['{"findings": [{"gait": 1.5}]}', 'wrong-type', '/findings/0/gait', '"gait" is an object, not a number.'],
    ['{"absent": [1.5]}', 'wrong-type', '/absent/0', '"the entry" is an object, not a number.'],
  ])('%s has a number where an object is expected, and is told so once', (text, code, place, sentence) => {
    const { issues } = readExam(text, NOW);
    expect(issues.filter((issue) => issue.place.startsWith(place))).toEqual([
      expect.objectContaining({ code: place === '/examiner' ? 'ID-02' : code, place, sentence }),
    ]);
  });

  test('names the property that a misspelt one was meant to be', () => {
    const { issues } = readFindings({ joint: 'knee', side: 'left', movment: 'flexion', degrees: 60 });
    expect(issues).toContainEqual(
      expect.objectContaining({
        code: 'unknown-property',
        place: '/findings/0/movment',
        sentence: '"movment" is no property here: did you mean "movement"?',
      }),
    );
  });

  test.each([
    [{ findings: {} }, 'wrong-type', '/findings'],
    [{ asExpected: 'all' }, 'CM-02', '/asExpected'],
    [{ findings: [{ side: 'left' }] }, 'unknown-finding', '/findings/0'],
    [{ findings: [7] }, 'wrong-type', '/findings/0'],
    [{ clientId: undefined }, 'missing', '/clientId'],
    [{ clientId: '' }, 'empty', '/clientId'],
    [{ type: 'yearly' }, 'unknown-word', '/type'],
    [{ patient: undefined }, 'ID-01', '/patient'],
    [{ examiner: undefined }, 'ID-02', '/examiner'],
    [{ note: 'x'.repeat(4001) }, 'too-long', '/note'],
    [{ precautions: [{ precaution: 7 }] }, 'wrong-type', '/precautions/0/precaution'],
    [{ findings: Array.from({ length: 2001 }, () => ({})) }, 'too-many', '/findings'],
    [
      { findings: [{ measure: 'grip', side: 'left', unit: 'kg', trials: [20], handlePosition: 6 }] },
      'not-whole',
      '/findings/0/handlePosition',
    ],
    [{ findings: [{ measure: 'height', value: 1, unit: 'cm' }] }, 'unknown-word', '/findings/0/measure'],
    [{ findings: [{ measure: 'timed-up-and-go', value: 14.2, unit: 'kg' }] }, 'unit', '/findings/0/unit'],
    [
      { findings: [{ measure: 'timed-up-and-go', value: 601, unit: 's' }] },
      'out-of-limits',
      '/findings/0/value',
    ],
    [{ findings: [{ joint: 'knee', side: 'left', degrees: 60 }] }, 'movement-missing', '/findings/0/degrees'],
    [
      { findings: [{ joint: 'fingers', side: 'left', movement: 'flexion', digit: 'sixth', range: 'full' }] },
      'unknown-digit',
      '/findings/0/digit',
    ],
    [
      { patient: { identifier: { system: 's', value: 'v' }, readBack: { name: 'Zzdunmoor', bed: '12' } } },
      'ID-01',
      '/patient/readBack/bed',
    ],
    [{ performedAt: '2016-12-31T23:59:60Z' }, 'TM-01', '/performedAt'],
    [
      { findings: [{ joint: 'knee', side: 'left', circumferenceCm: -3, level: 'mid-patella' }] },
      'out-of-limits',
      '/findings/0/circumferenceCm',
    ],
    [
      { findings: [{ joint: 'neck', circumferenceCm: 40, level: 'collar' }] },
      'wrong-joint',
      '/findings/0/joint',
    ],
    [
      {
        findings: [
          {
            check: 'neurovascular',
            limb: 'upper',
            side: 'left',
            elements: { colour: 'pale', color: 'usual' },
          },
        ],
      },
      'given-twice',
      '/findings/0/elements',
    ],
    [
      { findings: [{ joint: 'knee', side: 'left', look: { swelling: 'none', swollen: 'mild' } }] },
      'given-twice',
      '/findings/0',
    ],
    [
      { notAssessed: [{ joints: ['wrist'], movements: ['pronation'], reason: 'position' }] },
      'wrong-joint',
      '/notAssessed/0/movements/0',
    ],
    [
      {
        findings: [{ joint: 'hip', side: 'left', look: { swelling: 'none' } }],
        notAssessed: [{ joints: ['hip'], aspects: ['look', 'feel'], reason: 'privacy' }],
      },
      'examined-and-not-assessed',
      '/findings/0',
    ],
    [{ onBody: [{ device: 'hat', joints: ['neck'] }] }, 'unknown-word', '/onBody/0/device'],
    [{ notAssessed: [{ reason: 'position' }] }, 'nothing-said', '/notAssessed/0'],
  ])('of %j is refused as %s at %s', (parts, code, place) => {
    const reading = read(parts);
    expect(reading.exam).toBeUndefined();
    expect(issuesOf(reading)).toContain(`error ${code} ${place}`);
  });
});

describe('the time of an exam', () => {
  test.each(['America/New_York', 'UTC', 'Australia/Lord_Howe'])(
    'is recorded now on the clock of %s when it is not said',
    (zone) => {
      const { exam } = readExam(stringifyJson(documentOf({ recordedAt: undefined })), { ...NOW, zone });
      expect(Date.parse(exam?.recordedAt ?? '')).toBe(NOW.at);
      expect(exam?.recordedAt).toBe(
        {
          'America/New_York': '2026-03-05T08:45:00-05:00',
          UTC: '2026-03-05T13:45:00+00:00',
          'Australia/Lord_Howe': '2026-03-06T00:45:00+11:00',
        }[zone],
      );
    },
  );

  test('is never recorded before it was done, even where the bedside clock runs ahead', () => {
    const performedAt = '2026-03-05T08:48:00-05:00';
    expect(read({ performedAt, recordedAt: undefined }).exam?.recordedAt).toBe(performedAt);
    expect(issuesOf(read({ performedAt, recordedAt: '2026-03-05T08:47:59-05:00' }))).toContain(
      'error TM-02 /recordedAt',
    );
  });

  test('may be recorded at the very moment it was done', () => {
    const performedAt = '2026-03-05T08:25:00-05:00';
    expect(read({ performedAt, recordedAt: performedAt }).exam).toMatchObject({
      performedAt,
      recordedAt: performedAt,
    });
  });

  test('in a late entry is stored with both times and asks for a reason that it does not need', () => {
    const { exam, issues } = read({ performedAt: '2026-03-05T05:10:00-05:00' });
    expect(exam).toMatchObject({
      performedAt: '2026-03-05T05:10:00-05:00',
      recordedAt: '2026-03-05T08:25:00-05:00',
    });
    expect(issues).toContainEqual(
      expect.objectContaining({
        severity: 'advise',
        code: 'TM-04',
        sentence: expect.stringMatching(/05:10.*08:25.*lateReason/) as string,
      }),
    );
  });
});

describe('"examined and within expected limits"', () => {
  test('over every joint, both sides, is the whole examination: 28 joint sides, 112 ranges and 106 grades', () => {
    const { exam } = read({ asExpected: [{ joints: joints.map(({ id }) => id) }] });
    const found = exam?.findings.filter((one) => one.kind === 'as-expected') ?? [];
    // Common practice counts 114 range and 108 strength answers over 61 movements; the grip of each hand is a force here.
    expect(found.filter(({ items }) => items.length > 0)).toHaveLength(28);
    expect(found.flatMap(({ range }) => range)).toHaveLength(112);
    expect(found.flatMap(({ strength }) => strength)).toHaveLength(106);
  });

  test('says nothing of a joint, side or aspect that is not named (property, CM-02)', () => {
    const aspects: readonly Aspect[] = ['look', 'feel', 'range', 'strength'];
    const entry = fc.record({
      joints: fc.uniqueArray(fc.constantFrom(...joints.map(({ id }) => id)), { minLength: 1, maxLength: 4 }),
      sides: fc.constantFrom('left' as const, 'right' as const, 'both' as const),
      aspects: fc.uniqueArray(fc.constantFrom(...aspects), { minLength: 1 }),
    });
    fc.assert(
      fc.property(entry, (said) => {
        const paired = said.joints.filter(
          (id) => joints.find((joint) => joint.id === id)?.structure === 'paired',
        );
        const midline = said.sides === 'both' ? said.joints : paired;
        fc.pre(midline.length === said.joints.length);
        for (const finding of read({ asExpected: [said] }).exam?.findings ?? []) {
          if (finding.kind !== 'as-expected') throw new Error('nothing else was said');
          expect(said.joints).toContain(finding.joint);
          if (finding.side !== undefined && said.sides !== 'both') expect(finding.side).toBe(said.sides);
          for (const aspect of finding.aspects) expect(said.aspects).toContain(aspect);
          if (!said.aspects.includes('range')) expect(finding.range).toEqual([]);
          if (!said.aspects.includes('strength')) expect(finding.strength).toEqual([]);
        }
      }),
      { numRuns: 200 },
    );
  });

  test('gives way to a finding of the same joint, side and item, and stays for the rest', () => {
    const { exam } = read({
      asExpected: [{ joints: ['knee'] }],
      findings: [
        { joint: 'knee', side: 'left', look: { swelling: 'mild' } },
        { joint: 'knee', side: 'left', movement: 'flexion', strength: 4 },
      ],
    });
    const [left, right] = exam?.findings ?? [];
    expect(left).toMatchObject({
      side: 'left',
      range: ['knee.flexion', 'knee.extension'],
      strength: ['knee.extension'],
    });
    expect(left).toMatchObject({ items: ['redness', 'deformity', 'tenderness', 'warmth', 'effusion'] });
    expect(right).toMatchObject({ side: 'right', strength: ['knee.flexion', 'knee.extension'] });
    expect(right).toHaveProperty('items.0', 'swelling');
  });

  test('is refused over what is at the same time not assessed', () => {
    const reading = read({
      asExpected: [{ joints: ['hip'], sides: 'both' }],
      notAssessed: [{ joints: ['hip'], sides: 'left', aspects: ['strength'], reason: 'privacy' }],
    });
    expect(issuesOf(reading)).toContain('error examined-and-not-assessed /asExpected/0');
    expect(reading.exam).toBeUndefined();
  });

  test('leaves out a single movement that was not assessed', () => {
    const { exam } = read({
      asExpected: [{ joints: ['hip'], sides: 'left', aspects: ['range'] }],
      notAssessed: [{ joints: ['hip'], sides: 'left', movements: ['adduction'], reason: 'position' }],
    });
    expect(exam?.findings[0]).toMatchObject({ kind: 'as-expected' });
    expect(exam?.findings[0]).toHaveProperty('range', expect.not.arrayContaining(['hip.adduction']));
    expect(exam?.findings[1]).toMatchObject({
      kind: 'not-assessed',
      movements: ['hip.adduction'],
      aspects: ['range', 'strength'],
    });
  });
});

describe('left and right', () => {
  test('are two findings where both is said of what is seen and felt', () => {
    const { exam } = readFindings({
      joint: 'knee',
      side: 'both',
      look: { swelling: 'none' },
      feel: { warmth: 'same' },
    });
    expect(exam?.findings.map((finding) => 'side' in finding && finding.side)).toEqual(['left', 'right']);
  });

  test('never leak into each other: a mirrored document has mirrored findings (property)', () => {
    const finding = fc.constantFrom<readonly unknown[]>(
      ...SIDED_ENTRIES.map((entry) => [entry]),
      SIDED_ENTRIES.slice(0, 3),
      SIDED_ENTRIES,
    );
    fc.assert(
      fc.property(finding, fc.constantFrom('left', 'right'), (entries, side) => {
        const said = entries.map((entry) => ({ ...(entry as object), side }));
        const { exam, issues } = read({ findings: said });
        expect(exam, JSON.stringify(issues)).toBeDefined();
        for (const one of exam?.findings ?? []) expect(one).toHaveProperty('side', side);
        const other = side === 'left' ? 'right' : 'left';
        const mirrored = read({ findings: said.map((entry) => ({ ...entry, side: other })) }).exam?.findings;
        expect(mirrored).toEqual(exam?.findings.map((one): Finding => ({ ...one, side: other }) as Finding));
      }),
    );
  });
});

describe('numbers', () => {
  test('keep the digits that were typed (property)', () => {
    const typed = fc
      .tuple(fc.integer({ min: 0, max: 99 }), fc.stringMatching(/^\d{1,4}$/))
      .map(([a, b]) => `${String(a)}.${b}`);
    fc.assert(
      fc.property(typed, (digits) => {
        const text = stringifyJson(
          documentOf({
            findings: [
              { joint: 'knee', side: 'left', movement: 'flexion', degrees: 77777, method: 'inclinometer' },
            ],
          }),
        ).replace('77777', digits);
        expect(readExam(text, NOW).exam?.findings[0]).toHaveProperty('extent', { degrees: digits });
      }),
    );
  });

  test('are kept with unit, device and trials as given', () => {
    const text = stringifyJson(
      documentOf({
        findings: [
          {
            measure: 'grip',
            side: 'right',
            trials: [1, 2, 3],
            unit: 'lb',
            rule: 'mean of three',
            device: 'hydraulic',
            handlePosition: 2,
            dominant: true,
          },
        ],
      }),
    ).replace('[1,2,3]', '[22.50, 23, 2.2e1]');
    expect(readExam(text, NOW).exam?.findings).toEqual([
      {
        kind: 'grip',
        side: 'right',
        trials: ['22.50', '23', '2.2e1'],
        unit: 'lb',
        rule: 'mean-of-3',
        device: 'hydraulic',
        handlePosition: 2,
        dominant: true,
      },
    ]);
  });

  test('of a refill keep the sign before them', () => {
    const { exam } = read({
      findings: [
        {
          check: 'neurovascular',
          limb: 'upper',
          side: 'left',
          elements: { 'capillary-refill': '< 2 s', 'pain-rest': 3 },
        },
      ],
      confirmed: ['CM-11'],
    });
    expect(exam?.findings[0]).toHaveProperty('elements', [
      { element: 'capillary-refill', value: '2', comparator: '<' },
      { element: 'pain-rest', value: '3' },
    ]);
  });
});

describe('the same item twice', () => {
  const flexion = (degrees: number): unknown => ({
    joint: 'knee',
    side: 'left',
    movement: 'flexion',
    degrees,
    method: 'inclinometer',
  });

  test('with the same value is told and stored once', () => {
    const reading = readFindings(flexion(60), flexion(60));
    expect(reading.exam?.findings).toHaveLength(1);
    expect(issuesOf(reading)).toContain('info given-twice /findings/1/degrees');
  });

  test('with different values is refused at both places', () => {
    expect(issuesOf(readFindings(flexion(60), flexion(70)))).toEqual([
      'error given-twice /findings/0/degrees',
      'error given-twice /findings/1/degrees',
    ]);
  });

  test('seen in two entries of one joint side is one finding', () => {
    const { exam, issues } = readFindings(
      { joint: 'knee', side: 'left', look: { swelling: 'none' } },
      { joint: 'knee', side: 'left', look: { redness: 'none' }, feel: { warmth: 'same' } },
    );
    expect(issues).toEqual([]);
    expect(exam?.findings).toEqual([
      {
        kind: 'look-feel',
        joint: 'knee',
        side: 'left',
        items: [
          { item: 'swelling', value: 'none' },
          { item: 'redness', value: 'none' },
          { item: 'warmth', value: 'same' },
        ],
      },
    ]);
  });

  test('measured another way, or passively, is another item (TR-01)', () => {
    const passive = {
      joint: 'knee',
      side: 'left',
      movement: 'flexion',
      degrees: 64,
      method: 'inclinometer',
      mode: 'passive',
    };
    const byEye = {
      joint: 'knee',
      side: 'left',
      movement: 'flexion',
      degrees: 65,
      method: 'visual-estimate',
    };
    expect(readFindings(flexion(60), passive, byEye).exam?.findings).toHaveLength(3);
  });
});

describe('one entry', () => {
  test('with degrees, strength and pain is three findings, each at its place', () => {
    const { exam, places } = readFindings({
      joint: 'knee',
      side: 'left',
      movement: 'bend',
      degrees: 60,
      method: 'inclinometer',
      strength: 5,
      pain: 4,
    });
    expect(exam?.findings.map(({ kind }) => kind)).toEqual(['range', 'strength', 'pain']);
    expect([...places.values()]).toEqual(['/findings/0/degrees', '/findings/0/strength', '/findings/0/pain']);
    expect(exam?.findings[2]).toEqual({
      kind: 'pain',
      score: '4',
      when: 'movement',
      side: 'left',
      movement: 'knee.flexion',
    });
  });

  test('not assessed over two joints and both sides is four findings with their reason', () => {
    const { exam } = read({
      notAssessed: [{ joints: ['hip', 'knee'], reason: 'privacy', note: 'at 14:00' }],
    });
    expect(exam?.findings).toHaveLength(4);
    expect(exam?.findings[1]).toEqual({
      kind: 'not-assessed',
      joint: 'hip',
      side: 'right',
      aspects: ['look', 'feel', 'range', 'strength'],
      reason: 'privacy',
      note: 'at 14:00',
    });
  });

  test('not assessed of one mode leaves the other mode to be examined', () => {
    const { exam } = read({
      findings: [
        {
          joint: 'shoulder',
          side: 'right',
          movement: 'flexion',
          degrees: 75,
          mode: 'passive',
          method: 'inclinometer',
        },
      ],
      notAssessed: [
        {
          joints: ['shoulder'],
          sides: 'right',
          aspects: ['range'],
          mode: 'active',
          reason: 'precaution',
          note: 'surgeon',
        },
      ],
    });
    expect(exam?.findings).toHaveLength(2);
  });
});

describe('an order', () => {
  test('by the words of a nurse is that of the catalogue; in free words it is kept and said to be unchecked', () => {
    const { exam, issues } = read({
      precautions: ['NWB', { precaution: 'no pulling on the arm', side: 'left' }],
    });
    expect(exam?.precautions).toEqual([
      { precaution: 'non-weight-bearing' },
      { precaution: 'no pulling on the arm', side: 'left' },
    ]);
    expect(issues).toContainEqual(
      expect.objectContaining({ severity: 'info', code: 'precaution-in-words', place: '/precautions/1' }),
    );
  });
});

describe('a corrected grade', () => {
  test('keeps the writing with its leading plus', () => {
    const { exam } = read({
      findings: [{ joint: 'knee', side: 'left', movement: 'flexion', strength: '+4' }],
      confirmed: ['SC-02'],
    });
    expect(exam?.findings[0]).toMatchObject({ grade: '4', typed: '+4' });
  });
});

describe('a cast', () => {
  const onBody = [{ device: 'cast', joints: ['wrist'], side: 'left' }];
  const wrist = (side: string): unknown => ({ joint: 'wrist', side, look: { swelling: 'none' } });

  test('on one wrist answers for that wrist and asks nothing of the other (LT-03, CM-01)', () => {
    expect(issuesOf(read({ type: 'brief-screen', onBody }))).not.toContain('advise LT-03 /findings');
    expect(issuesOf(read({ type: 'brief-screen', onBody, findings: [wrist('right')] }))).not.toContain(
      'advise LT-03 /findings',
    );
    expect(issuesOf(read({ type: 'brief-screen', onBody, findings: [wrist('left')] }))).toContain(
      'advise LT-03 /findings',
    );
    const gaps = read({ type: 'full', onBody })
      .issues.filter(({ code }) => code === 'CM-01')
      .map(({ sentence }) => sentence);
    expect(gaps.some((sentence) => sentence.includes('right wrist'))).toBe(true);
    expect(gaps.some((sentence) => sentence.includes('left wrist'))).toBe(false);
  });
});

describe('a document without findings', () => {
  test('is stored where nothing is required, and says that it is empty', () => {
    const { exam, issues } = read();
    expect(exam?.findings).toEqual([]);
    expect(issues).toEqual([
      expect.objectContaining({ severity: 'advise', code: 'CM-01', place: '/findings' }),
    ]);
  });
});

describe('a confirmation', () => {
  test('of a check nobody knows is told and left out', () => {
    const { exam, issues } = read({ confirmed: ['XX-99'] });
    expect(exam?.confirmed).toEqual([]);
    expect(issues.slice(0, 1)).toEqual([
      expect.objectContaining({ severity: 'info', code: 'unknown-check', place: '/confirmed/0' }),
    ]);
  });
});

const SIDED_ENTRIES: readonly object[] = [
  { joint: 'knee', look: { swelling: 'none' } },
  { joint: 'knee', movement: 'flexion', degrees: 60, method: 'inclinometer' },
  { joint: 'shoulder', movement: 'abduction', strength: 5 },
  { joint: 'ankle', circumferenceCm: 23.5, level: 'figure of eight' },
  { measure: 'grip', trials: [20], unit: 'kg' },
  { measure: 'pain', value: 2, when: 'rest', joint: 'hip' },
];

/** A document with something in every part. */
const WHOLE = documentOf({
  positions: ['sitting'],
  precautions: ['no-resisted', { precaution: 'hip-posterior', side: 'left', note: 'day 1' }],
  asExpected: [{ joints: ['jaw', 'neck'], sides: 'both', aspects: ['look', 'range'] }],
  findings: [
    ...SIDED_ENTRIES.map((entry) => ({ ...entry, side: 'left' })),
    { screen: 'hand-squeeze', result: 'equal and strong' },
    {
      check: 'neurovascular',
      limb: 'upper',
      side: 'left',
      elements: { pulse: 'present', 'pain-rest': { value: 3, describe: 'dull' } },
    },
    { gait: { pattern: 'steady', assistance: 'independent' } },
  ],
  onBody: [{ device: 'cast', joints: ['wrist'], side: 'left', since: '2026-03-02T10:00:00-05:00' }],
  absent: [{ joints: ['toes'], side: 'right', level: 'all toes' }],
  notAssessed: [{ joints: ['elbow'], sides: 'both', aspects: ['look'], reason: 'privacy' }],
  confirmed: ['CM-11'],
  note: 'quiet night',
});

type Path = readonly (string | number)[];

function placesIn(value: unknown, path: Path = []): readonly Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  const entries = Array.isArray(value)
    ? value.map((one, index) => [index, one] as const)
    : Object.entries(value);
  return [path, ...entries.flatMap(([step, held]) => placesIn(held, [...path, step]))];
}

function replaceAt(value: unknown, [step, ...rest]: Path, by: unknown): unknown {
  if (step === undefined) return by;
  if (Array.isArray(value))
    return value.map((one: unknown, index) => (index === step ? replaceAt(one, rest, by) : one));
  const held = value as Readonly<Record<string, unknown>>;
  return { ...held, [step]: replaceAt(held[step], rest, by) };
}
