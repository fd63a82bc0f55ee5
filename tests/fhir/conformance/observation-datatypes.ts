import { ABSENT, observation, page, type RuleCases } from './observation-case.js';

const UCUM = 'http://unitsofmeasure.org';
const datatype = (anchor: string): string => page(`datatypes.html#${anchor}`);
const quantity = (value: object): object => observation({ valueQuantity: value });
const noted = (note: object): object => observation({ note: [note] });
const identified = (identifier: object): object => observation({ identifier: [identifier] });

const quantityCases: readonly RuleCases[] = [
  {
    rule: 'qty-3',
    section: datatype('Quantity'),
    keeps: {
      'a unit with its code and system': quantity({ value: 30.5, unit: 'kgf', system: UCUM, code: 'kgf' }),
      'a system without a code': quantity({ value: 30.5, system: UCUM }),
      'a unit in words alone': quantity({ value: 2, unit: 'fingers' }),
      'a code whose system is said to be absent': quantity({ value: 2, code: 'x', _system: ABSENT }),
      'a unit without a value': quantity({ unit: 'kgf', system: UCUM, code: 'kgf' }),
      'a value that is said to be absent': quantity({ _value: ABSENT, unit: 'kgf' }),
      'a unit of an own system': quantity({
        value: 2,
        system: 'http://example.org/units',
        code: 'finger breadths',
      }),
    },
    breaks: {
      'a code for the unit without its system': ['Observation.value', quantity({ value: 30.5, code: 'kgf' })],
      'a code for the unit of a component without its system': [
        'Observation.component[0].value',
        observation({ component: [{ code: { text: 'a' }, valueQuantity: { value: 3, code: 'cm' } }] }),
      ],
      'a code without its system in a ratio': [
        'Observation.value.denominator',
        observation({ valueRatio: { numerator: { value: 1 }, denominator: { value: 3, code: 'min' } } }),
      ],
    },
  },
  {
    rule: 'required-binding',
    section: datatype('Quantity'),
    on: 'Quantity.comparator',
    keeps: Object.fromEntries(
      ['<', '<=', '>=', '>'].map((comparator) => [
        `a value ${comparator} what was read`,
        quantity({ value: 90, comparator }),
      ]),
    ),
    breaks: {
      'a comparator that only R5 has': [
        'Observation.value.comparator',
        quantity({ value: 90, comparator: 'ad' }),
      ],
      'a comparator of equality': ['Observation.value.comparator', quantity({ value: 90, comparator: '=' })],
      'a comparator of one sign': ['Observation.value.comparator', quantity({ value: 90, comparator: '≥' })],
      'a comparator by its prefix in searches': [
        'Observation.value.comparator',
        quantity({ value: 90, comparator: 'lt' }),
      ],
    },
  },
  {
    rule: 'ucum',
    section: datatype('Quantity'),
    on: 'Quantity.code',
    keeps: Object.fromEntries(
      [
        'kgf',
        'N',
        'N.m',
        'deg',
        'cm',
        'mm[Hg]',
        '[lb_av]',
        '{score}',
        '1',
        '%',
        '/min',
        'm/s2',
        '10*3/uL',
      ].map((code) => [`a unit of UCUM: ${code}`, quantity({ value: 3, system: UCUM, code })]),
    ),
    breaks: {
      'no unit of UCUM in a reference range': [
        'Observation.referenceRange[0].low.code',
        observation({ referenceRange: [{ low: { value: 20, system: UCUM, code: 'kilogram' } }] }),
      ],
      'no unit of UCUM in the origin of samples': [
        'Observation.value.origin.code',
        observation({
          valueSampledData: { origin: { value: 0, system: UCUM, code: 'Volt' }, period: 10, dimensions: 1 },
        }),
      ],
      ...Object.fromEntries(
        ['mmHg', 'lbs', 'degrees', 'Kg', 'Newton', 'cms', '{two words}', '(m', 'm//s', 'KGF'].map((code) => [
          `no unit of UCUM: "${code}"`,
          ['Observation.value.code', quantity({ value: 3, system: UCUM, code })],
        ]),
      ),
    },
  },
  {
    rule: 'json-type',
    section: datatype('Quantity'),
    on: 'Quantity.value',
    keeps: { 'a value of nought': quantity({ value: 0, unit: 'kgf' }) },
    breaks: {
      'a value that is a text': ['Observation.value.value', quantity({ value: '30.5', unit: 'kgf' })],
      'a value with its unit in it': ['Observation.value.value', quantity({ value: '30.5 kgf' })],
      'a unit that is a code in an object': [
        'Observation.value.unit',
        quantity({ value: 3, unit: { code: 'cm' } }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: datatype('Quantity'),
    breaks: {
      'the name of units in other programs': [
        'Observation.value.units',
        quantity({ value: 30, units: 'kgf' }),
      ],
      'a currency on a quantity': ['Observation.value.currency', quantity({ value: 30, currency: 'EUR' })],
      'a modifier extension on a datatype': [
        'Observation.value.modifierExtension',
        quantity({ value: 30, modifierExtension: [{ url: 'http://example.org/a', valueBoolean: true }] }),
      ],
    },
  },
  {
    rule: 'sqty-1',
    section: datatype('SimpleQuantity'),
    keeps: {
      'a comparator in a ratio, whose parts are not simple': observation({
        valueRatio: { numerator: { value: 1, comparator: '<' }, denominator: { value: 128 } },
      }),
      'limits with units and no comparator': observation({
        valueRange: { low: { value: 1, unit: 'cm' }, high: { value: 2, unit: 'cm' } },
      }),
    },
    breaks: {
      'a comparator in the low of a reference range': [
        'Observation.referenceRange[0].low',
        observation({ referenceRange: [{ low: { value: 20, comparator: '>' } }] }),
      ],
      'a comparator in the high of a reference range of a component': [
        'Observation.component[0].referenceRange[0].high',
        observation({
          component: [{ code: { text: 'a' }, referenceRange: [{ high: { value: 20, comparator: '<' } }] }],
        }),
      ],
      'a comparator in the low of a range': [
        'Observation.value.low',
        observation({ valueRange: { low: { value: 3, comparator: '>=' } } }),
      ],
      'a comparator in the high of an age': [
        'Observation.referenceRange[0].age.high',
        observation({ referenceRange: [{ text: 'adults', age: { high: { value: 99, comparator: '<' } } }] }),
      ],
      'a comparator in the origin of samples': [
        'Observation.value.origin',
        observation({
          valueSampledData: { origin: { value: 0, comparator: '<' }, period: 10, dimensions: 1 },
        }),
      ],
    },
  },
  {
    rule: 'rng-2',
    section: datatype('Range'),
    keeps: {
      'a range of one point': observation({ valueRange: { low: { value: 3 }, high: { value: 3.0 } } }),
      'a range without its high': observation({ valueRange: { low: { value: 3, unit: 'cm' } } }),
      'a range without its low': observation({ valueRange: { high: { value: 3, unit: 'cm' } } }),
      'a range from below nought': observation({ valueRange: { low: { value: -10 }, high: { value: -3 } } }),
      'a range over two units of one kind': observation({
        valueRange: {
          low: { value: 9, unit: 'mm', system: UCUM, code: 'mm' },
          high: { value: 1, unit: 'cm', system: UCUM, code: 'cm' },
        },
      }),
      'a range whose limits have no values': observation({
        valueRange: { low: { unit: 'cm' }, high: { unit: 'cm' } },
      }),
      'a range in two words for units, which cannot be put in order': observation({
        valueRange: { low: { value: 9, unit: 'mm' }, high: { value: 1, unit: 'cm' } },
      }),
      'a range of two kinds of unit, which cannot be put in order': observation({
        valueRange: {
          low: { value: 9, system: UCUM, code: 'kg' },
          high: { value: 1, system: UCUM, code: 'cm' },
        },
      }),
      'a range of an extension alone': observation({ valueRange: ABSENT }),
    },
    breaks: {
      'a range of two bare numbers whose low is above its high': [
        'Observation.value',
        observation({ valueRange: { low: { value: 10 }, high: { value: 9 } } }),
      ],
      'a range over two units whose low is above its high': [
        'Observation.value',
        observation({
          valueRange: {
            low: { value: 11, unit: 'mm', system: UCUM, code: 'mm' },
            high: { value: 1, unit: 'cm', system: UCUM, code: 'cm' },
          },
        }),
      ],
      'a range of an own unit whose low is above its high': [
        'Observation.value',
        observation({
          valueRange: {
            low: { value: 3, system: 'http://example.org/units', code: 'finger' },
            high: { value: 2, system: 'http://example.org/units', code: 'finger' },
          },
        }),
      ],
      'a range in words of a unit whose low is above its high': [
        'Observation.value',
        observation({ valueRange: { low: { value: 10, unit: 'cm' }, high: { value: 9, unit: 'cm' } } }),
      ],
      'a range whose low is above its high, with codes': [
        'Observation.component[0].value',
        observation({
          component: [
            {
              code: { text: 'a' },
              valueRange: {
                low: { value: 10, system: UCUM, code: 'deg' },
                high: { value: 9.5, system: UCUM, code: 'deg' },
              },
            },
          ],
        }),
      ],
      'an age that ends before it begins': [
        'Observation.referenceRange[0].age',
        observation({
          referenceRange: [
            {
              text: 'adults',
              age: {
                low: { value: 65, system: UCUM, code: 'a' },
                high: { value: 18, system: UCUM, code: 'a' },
              },
            },
          ],
        }),
      ],
    },
  },
  {
    rule: 'rat-1',
    section: datatype('Ratio'),
    keeps: {
      'a ratio of both parts': observation({
        valueRatio: { numerator: { value: 1 }, denominator: { value: 1024 } },
      }),
      'a ratio to nought': observation({
        valueRatio: { numerator: { value: 1 }, denominator: { value: 0 } },
      }),
      'a ratio of an extension alone': observation({ valueRatio: ABSENT }),
      'a ratio of both parts and an extension': observation({
        valueRatio: { ...ABSENT, numerator: { value: 1 }, denominator: { value: 2 } },
      }),
    },
    breaks: {
      'a ratio without its denominator': [
        'Observation.value',
        observation({ valueRatio: { numerator: { value: 1 } } }),
      ],
      'a ratio without its numerator': [
        'Observation.value',
        observation({ valueRatio: { denominator: { value: 1 } } }),
      ],
      'a ratio without its denominator, and an extension': [
        'Observation.value',
        observation({ valueRatio: { ...ABSENT, numerator: { value: 1 } } }),
      ],
    },
  },
];

const sampled = (members: object): object =>
  observation({
    valueSampledData: { origin: { value: 0, unit: 'kgf' }, period: 10, dimensions: 1, ...members },
  });

const sampleCases: readonly RuleCases[] = [
  {
    rule: 'cardinality',
    section: datatype('SampledData'),
    on: 'SampledData.origin',
    keeps: {
      'samples with errors and values beyond the limits': sampled({
        factor: 0.5,
        lowerLimit: -100,
        upperLimit: 100,
        data: '2 4.5 -1 E L U 1e2',
      }),
      'samples without data, of which only the frame is known': sampled({}),
    },
    breaks: {
      'samples without an origin': [
        'Observation.value.origin',
        observation({ valueSampledData: { period: 10, dimensions: 1, data: '1' } }),
      ],
    },
  },
  {
    rule: 'cardinality',
    section: datatype('SampledData'),
    on: 'SampledData.period',
    keeps: {
      'samples of a period that is said to be absent': sampled({ period: undefined, _period: ABSENT }),
    },
    breaks: {
      'samples without a period': [
        'Observation.value.period',
        observation({ valueSampledData: { origin: { value: 0 }, dimensions: 1, data: '1' } }),
      ],
    },
  },
  {
    rule: 'cardinality',
    section: datatype('SampledData'),
    on: 'SampledData.dimensions',
    keeps: { 'samples of three dimensions': sampled({ dimensions: 3, data: '1 2 3 4 5 6' }) },
    breaks: {
      'samples without their dimensions': [
        'Observation.value.dimensions',
        observation({ valueSampledData: { origin: { value: 0 }, period: 10, data: '1' } }),
      ],
    },
  },
  {
    rule: 'primitive-type',
    section: datatype('SampledData'),
    breaks: {
      'samples of no dimension': ['Observation.value.dimensions', sampled({ dimensions: 0 })],
      'samples of an empty text': ['Observation.value.data', sampled({ data: '' })],
    },
  },
  {
    rule: 'json-type',
    section: datatype('SampledData'),
    breaks: {
      'samples in an array': ['Observation.value.data', sampled({ data: ['1 2 3'] })],
      'a period of samples as a text': ['Observation.value.period', sampled({ period: '10' })],
    },
  },
];

const period = (start?: string, end?: string): object => observation({ effectivePeriod: { start, end } });

const timeCases: readonly RuleCases[] = [
  {
    rule: 'per-1',
    section: datatype('Period'),
    keeps: {
      'a period without an end': period('2024-03-05T07:30:00Z'),
      'a period that starts in a leap second': period('2016-12-31T23:59:60Z', '2017-01-01T00:00:00Z'),
      'a period from a moment to the day after': period('2024-03-05T10:00:00Z', '2024-03-06'),
      'a period without a start': period(undefined, '2024'),
      'a period of one moment': period('2024-03-05T07:30:00Z', '2024-03-05T07:30:00Z'),
      'a period of one day': period('2024-03-05', '2024-03-05'),
      'a period within one year': period('2024', '2024'),
      'a period whose ends are the same moment in two zones': period(
        '2024-03-05T10:00:00+02:00',
        '2024-03-05T09:00:00+01:00',
      ),
      'a period whose ends only its zones put in order': period(
        '2024-03-05T23:30:00+02:00',
        '2024-03-05T22:00:00Z',
      ),
      'a period of a thousandth of a second': period('2024-03-05T10:00:00.001Z', '2024-03-05T10:00:00.002Z'),
      'a period from a year to a day of a later year': period('2023', '2024-03-05'),
      'a period from a day to a month after it': period('2024-03-05', '2024-04'),
      'a period whose start is said to be absent': observation({
        effectivePeriod: { _start: ABSENT, end: '2024-03-05' },
      }),
    },
    breaks: {
      'a period that ends before it starts': ['Observation.effective', period('2024-03-05', '2024-03-04')],
      'a period that ends in the months before it starts, though in the year after by its text': [
        'Observation.effective',
        period('2024-12-31T23:00:00-05:00', '2025-01-01T03:00:00Z'),
      ],
      'a period that ends a year before it starts': ['Observation.effective', period('2024', '2023')],
      'a period whose order only its zones turn': [
        'Observation.effective',
        period('2024-03-05T10:00:00Z', '2024-03-05T10:30:00+01:00'),
      ],
      'a period that ends a thousandth of a second too early': [
        'Observation.effective',
        period('2024-03-05T10:00:00.002Z', '2024-03-05T10:00:00.001Z'),
      ],
      'a period that starts on a day and ends in a year before it': [
        'Observation.effective',
        period('2024-03-05', '2023'),
      ],
      'a period whose ends cannot be put in order, one being less exact': [
        'Observation.effective',
        period('2023-06-21', '2023-06-21T06:20:00Z'),
      ],
      'a period of an identifier that ends before it starts': [
        'Observation.identifier[0].period',
        identified({ value: '7', period: { start: '2024-02', end: '2024-01' } }),
      ],
      'a value that is a period that ends before it starts': [
        'Observation.value',
        observation({ valuePeriod: { start: '2024-02-01', end: '2024-01-31' } }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: datatype('Period'),
    breaks: {
      'a period with a length': [
        'Observation.effective.duration',
        observation({ effectivePeriod: { duration: 3 } }),
      ],
    },
  },
];

const repeating = (repeat: object): object => observation({ effectiveTiming: { repeat } });
const REPEAT = 'Observation.effective.repeat';
const PLAIN = { frequency: 1, period: 1, periodUnit: 'd' };

const UNITS_OF_TIME = ['s', 'min', 'h', 'd', 'wk', 'mo', 'a'];
const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
/** R4 valueset-event-timing: those of FHIR and those of HL7 Version 3. */
const EVENTS = [
  ...[
    'MORN',
    'MORN.early',
    'MORN.late',
    'NOON',
    'AFT',
    'AFT.early',
    'AFT.late',
    'EVE',
    'EVE.early',
    'EVE.late',
  ],
  ...[
    'NIGHT',
    'PHS',
    'HS',
    'WAKE',
    'C',
    'CM',
    'CD',
    'CV',
    'AC',
    'ACM',
    'ACD',
    'ACV',
    'PC',
    'PCM',
    'PCD',
    'PCV',
  ],
];

const timingCases: readonly RuleCases[] = [
  {
    rule: 'tim-1',
    section: datatype('Timing'),
    keeps: {
      'a duration with its unit': repeating({ duration: 30, durationUnit: 's' }),
      'a unit of duration without a duration': repeating({ durationUnit: 's' }),
      'a duration whose unit is said to be absent': repeating({ duration: 30, _durationUnit: ABSENT }),
    },
    breaks: { 'a duration without its unit': [REPEAT, repeating({ ...PLAIN, duration: 30 })] },
  },
  {
    rule: 'tim-2',
    section: datatype('Timing'),
    keeps: {
      'twice every eight hours': repeating({ frequency: 2, period: 8, periodUnit: 'h' }),
      'a unit of the period without a period': repeating({ periodUnit: 'd' }),
    },
    breaks: { 'a period of repeating without its unit': [REPEAT, repeating({ frequency: 1, period: 8 })] },
  },
  {
    rule: 'tim-4',
    section: datatype('Timing'),
    keeps: { 'a duration of nought': repeating({ duration: 0, durationUnit: 'min' }) },
    breaks: { 'a duration below nought': [REPEAT, repeating({ duration: -1, durationUnit: 'min' })] },
  },
  {
    rule: 'tim-5',
    section: datatype('Timing'),
    keeps: { 'a period of repeating of nought': repeating({ period: 0, periodUnit: 'd' }) },
    breaks: { 'a period of repeating below nought': [REPEAT, repeating({ period: -0.5, periodUnit: 'd' })] },
  },
  {
    rule: 'tim-6',
    section: datatype('Timing'),
    keeps: { 'every four to six hours': repeating({ period: 4, periodMax: 6, periodUnit: 'h' }) },
    breaks: { 'a greatest period without a period': [REPEAT, repeating({ periodMax: 6, periodUnit: 'h' })] },
  },
  {
    rule: 'tim-7',
    section: datatype('Timing'),
    keeps: {
      'for ten to fifteen minutes': repeating({ duration: 10, durationMax: 15, durationUnit: 'min' }),
    },
    breaks: {
      'a greatest duration without a duration': [REPEAT, repeating({ durationMax: 15, durationUnit: 'min' })],
    },
  },
  {
    rule: 'tim-8',
    section: datatype('Timing'),
    keeps: { 'three to five times': repeating({ count: 3, countMax: 5 }) },
    breaks: { 'a greatest count without a count': [REPEAT, repeating({ countMax: 5 })] },
  },
  {
    rule: 'tim-9',
    section: datatype('Timing'),
    keeps: {
      'half an hour before breakfast': repeating({ when: ['ACM'], offset: 30 }),
      'at meals': repeating({ when: ['C'] }),
      'half an hour before each of two meals': repeating({ when: ['ACM', 'ACV'], offset: 30 }),
      'no time before waking': repeating({ when: ['WAKE'], offset: 0 }),
    },
    breaks: {
      'an offset from no event': [REPEAT, repeating({ ...PLAIN, offset: 30 })],
      'an offset from two events of which one is a meal': [
        REPEAT,
        repeating({ when: ['ACM', 'C'], offset: 30 }),
      ],
      'an offset from a meal': [REPEAT, repeating({ when: ['C'], offset: 30 })],
      'an offset from breakfast': [REPEAT, repeating({ when: ['CM'], offset: 30 })],
      'an offset from dinner at noon': [REPEAT, repeating({ when: ['CD'], offset: 30 })],
      'an offset from the evening meal': [REPEAT, repeating({ when: ['CV'], offset: 30 })],
    },
  },
  {
    rule: 'tim-10',
    section: datatype('Timing'),
    keeps: {
      'at two times of the day': repeating({ ...PLAIN, timeOfDay: ['08:00:00', '20:00:00'] }),
      'in the morning and at bedtime': repeating({ when: ['MORN', 'HS'] }),
    },
    breaks: {
      'a time of day beside an event': [REPEAT, repeating({ timeOfDay: ['08:00:00'], when: ['MORN'] })],
    },
  },
  {
    rule: 'required-binding',
    section: page('datatypes-definitions.html#Timing.repeat.durationUnit'),
    on: 'Timing.repeat.durationUnit',
    keeps: Object.fromEntries(
      UNITS_OF_TIME.map((unit) => [`a duration in ${unit}`, repeating({ duration: 1, durationUnit: unit })]),
    ),
    breaks: {
      'a duration in minutes by their name': [
        `${REPEAT}.durationUnit`,
        repeating({ duration: 1, durationUnit: 'minutes' }),
      ],
      'a duration in thousandths of a second': [
        `${REPEAT}.durationUnit`,
        repeating({ duration: 1, durationUnit: 'ms' }),
      ],
    },
  },
  {
    rule: 'required-binding',
    section: page('datatypes-definitions.html#Timing.repeat.periodUnit'),
    on: 'Timing.repeat.periodUnit',
    keeps: Object.fromEntries(
      UNITS_OF_TIME.map((unit) => [
        `once per ${unit}`,
        repeating({ frequency: 1, period: 1, periodUnit: unit }),
      ]),
    ),
    breaks: {
      'a period in years by another code': [
        `${REPEAT}.periodUnit`,
        repeating({ period: 1, periodUnit: 'y' }),
      ],
      'a period in months, spelt as minutes': [
        `${REPEAT}.periodUnit`,
        repeating({ period: 1, periodUnit: 'm' }),
      ],
    },
  },
  {
    rule: 'required-binding',
    section: page('datatypes-definitions.html#Timing.repeat.dayOfWeek'),
    on: 'Timing.repeat.dayOfWeek',
    keeps: { 'each day of the week': repeating({ ...PLAIN, dayOfWeek: DAYS }) },
    breaks: {
      'a second day in a capital': [
        `${REPEAT}.dayOfWeek[1]`,
        repeating({ ...PLAIN, dayOfWeek: ['mon', 'Tue'] }),
      ],
      'a day in full': [`${REPEAT}.dayOfWeek[0]`, repeating({ ...PLAIN, dayOfWeek: ['monday'] })],
    },
  },
  {
    rule: 'required-binding',
    section: page('datatypes-definitions.html#Timing.repeat.when'),
    on: 'Timing.repeat.when',
    keeps: { 'each event of the day': repeating({ when: EVENTS }) },
    breaks: {
      'an event in small letters': [`${REPEAT}.when[0]`, repeating({ when: ['morn'] })],
      'an event that R4 does not have': [`${REPEAT}.when[1]`, repeating({ when: ['MORN', 'IMD'] })],
    },
  },
  {
    rule: 'choice-type',
    section: page('datatypes-definitions.html#Timing.repeat.bounds_x_'),
    on: 'Timing.repeat.bounds[x]',
    keeps: {
      'bounds that are a period': repeating({ boundsPeriod: { start: '2024-03-05' }, ...PLAIN }),
      'bounds that are a range': repeating({ boundsRange: { low: { value: 2, unit: 'weeks' } }, ...PLAIN }),
      'bounds that are a duration': repeating({
        boundsDuration: { value: 6, system: UCUM, code: 'wk' },
        ...PLAIN,
      }),
    },
    breaks: {
      'bounds of two kinds': [
        `${REPEAT}.bounds`,
        repeating({ boundsPeriod: { start: '2024' }, boundsRange: { low: { value: 2 } } }),
      ],
      'bounds of a choice by its plain name': [`${REPEAT}.bounds`, repeating({ boundsString: '6 weeks' })],
      'bounds that are a quantity': [`${REPEAT}.bounds`, repeating({ boundsQuantity: { value: 2 } })],
    },
  },
  {
    rule: 'primitive-type',
    section: datatype('Timing'),
    keeps: {
      'a timing of years': observation({ effectiveTiming: { event: ['2023', '2024'] } }),
      'a timing of a code alone': observation({
        effectiveTiming: {
          code: {
            coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-GTSAbbreviation', code: 'BID' }],
          },
        },
      }),
      'a timing with a modifier extension, as few datatypes have': observation({
        effectiveTiming: {
          modifierExtension: [{ url: 'http://example.org/not-at-weekends', valueBoolean: true }],
          event: ['2024'],
        },
      }),
    },
    breaks: {
      'a count of nought': [`${REPEAT}.count`, repeating({ count: 0 })],
      'a frequency with a fraction': [`${REPEAT}.frequency`, repeating({ ...PLAIN, frequency: 1.5 })],
      'an offset below nought': [`${REPEAT}.offset`, repeating({ when: ['ACM'], offset: -30 })],
      'a time of day without its seconds': [
        `${REPEAT}.timeOfDay[1]`,
        repeating({ timeOfDay: ['08:00:00', '20:00'] }),
      ],
      'an event on a day that does not exist': [
        'Observation.effective.event[0]',
        observation({ effectiveTiming: { event: ['2023-02-29'] } }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: datatype('Timing'),
    breaks: {
      'a modifier extension on the repeating, which is no backbone': [
        `${REPEAT}.modifierExtension`,
        repeating({ ...PLAIN, modifierExtension: [{ url: 'http://example.org/a', valueBoolean: true }] }),
      ],
    },
  },
];

const coded = (coding: object): object => observation({ code: { coding: [coding] } });

const codeCases: readonly RuleCases[] = [
  {
    rule: 'unknown-element',
    section: datatype('Coding'),
    on: 'Coding',
    keeps: {
      'a coding without a system': coded({ code: 'grip' }),
      'a coding of a display alone': coded({ display: 'Grip strength' }),
      'a coding of a system alone': coded({ system: 'http://loinc.org' }),
      'a coding with a version and the word that the user chose it': coded({
        system: 'http://example.org/observables',
        version: '2024-03',
        code: 'grip strength',
        display: 'Grip strength',
        userSelected: false,
      }),
    },
    breaks: {
      'a coding with the name of its system': [
        'Observation.code.coding[0].systemName',
        coded({ code: 'grip', systemName: 'own' }),
      ],
      'a concept that is a coding itself': [
        'Observation.bodySite.system',
        observation({ bodySite: { system: 'http://snomed.info/sct' } }),
      ],
    },
  },
  {
    rule: 'json-type',
    section: datatype('CodeableConcept'),
    on: 'CodeableConcept.coding',
    keeps: { 'a concept of one coding in its array': coded({ code: 'grip' }) },
    breaks: {
      'a coding without its array': [
        'Observation.code.coding',
        observation({ code: { coding: { code: 'grip' } } }),
      ],
      'the word that the user chose it, as a text': [
        'Observation.code.coding[0].userSelected',
        coded({ code: 'grip', userSelected: 'true' }),
      ],
      'a code that is a number': ['Observation.code.coding[0].code', coded({ code: 7 })],
      'a text that is an object': ['Observation.code.text', observation({ code: { text: { div: 'Grip' } } })],
    },
  },
  {
    rule: 'primitive-type',
    section: datatype('Coding'),
    breaks: {
      'a coding whose code has a space after it': [
        'Observation.code.coding[0].code',
        coded({ code: 'grip ' }),
      ],
      'a system with a space in it': [
        'Observation.code.coding[0].system',
        coded({ system: 'http://loinc .org', code: '1' }),
      ],
      'an empty display': ['Observation.code.coding[0].display', coded({ code: 'grip', display: '' })],
      'an empty text of a concept': ['Observation.code.text', observation({ code: { text: '' } })],
    },
  },
  {
    rule: 'required-binding',
    section: datatype('Identifier'),
    on: 'Identifier.use',
    keeps: Object.fromEntries(
      ['usual', 'official', 'temp', 'secondary', 'old'].map((use) => [
        `an identifier that is ${use}`,
        identified({ use, value: '7' }),
      ]),
    ),
    breaks: {
      'an identifier for home': ['Observation.identifier[0].use', identified({ use: 'home', value: '7' })],
      'an identifier of a use within an identifier': [
        'Observation.subject.identifier.use',
        observation({ subject: { identifier: { use: 'primary', value: '7' } } }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: datatype('Identifier'),
    on: 'Identifier',
    keeps: {
      'an identifier without a system': identified({ value: 'GL-7' }),
      'an identifier that is a whole URI': identified({
        system: 'urn:ietf:rfc:3986',
        value: 'urn:oid:1.2.3.4',
      }),
      'an identifier of a system and a type of an own code': identified({
        type: { coding: [{ system: 'http://example.org/types', code: 'ward' }], text: 'number of the ward' },
        system: 'http://example.org/numbers',
      }),
    },
    breaks: {
      'an identifier with a label, as in an early draft': [
        'Observation.identifier[0].label',
        identified({ label: 'No.', value: '7' }),
      ],
    },
  },
  {
    rule: 'json-type',
    section: datatype('Identifier'),
    breaks: {
      'an identifier whose value is a number': ['Observation.identifier[0].value', identified({ value: 7 })],
    },
  },
  {
    rule: 'cardinality',
    section: datatype('Annotation'),
    on: 'Annotation.text',
    keeps: {
      'a note of a text alone': noted({ text: 'Arm rested on the table.' }),
      'a note by a name, at a year': noted({ authorString: 'A. Nurse', time: '2024', text: 'seated' }),
      'a note in markdown of several lines': noted({ text: '- seated\n- elbow at **90 deg**\n' }),
      'a note whose text is said to be absent': noted({ _text: ABSENT, time: '2024-03-05' }),
    },
    breaks: {
      'a note without its text': ['Observation.note[0].text', noted({ authorString: 'A. Nurse' })],
      'a second note without its text': [
        'Observation.note[1].text',
        observation({ note: [{ text: 'seated' }, { time: '2024-03-05' }] }),
      ],
    },
  },
  {
    rule: 'choice-type',
    section: datatype('Annotation'),
    on: 'Annotation.author[x]',
    keeps: {
      'a note by someone with a name alone': noted({
        authorReference: { display: 'A. Nurse' },
        text: 'seated',
      }),
    },
    breaks: {
      'a note by two authors': [
        'Observation.note[0].author',
        noted({ authorString: 'A. Nurse', authorReference: { display: 'A. Nurse' }, text: 'seated' }),
      ],
    },
  },
  {
    rule: 'primitive-type',
    section: datatype('Annotation'),
    breaks: {
      'a note at a time without a zone': [
        'Observation.note[0].time',
        noted({ time: '2024-03-05T07:30:00', text: 'seated' }),
      ],
      'a note of an empty text': ['Observation.note[0].text', noted({ text: '' })],
    },
  },
  {
    rule: 'unknown-element',
    section: datatype('Annotation'),
    breaks: { 'a note of a value': ['Observation.note[0].value', noted({ text: 'seated', value: 'x' })] },
  },
];

export const datatypeCases: readonly RuleCases[] = [
  ...quantityCases,
  ...sampleCases,
  ...timeCases,
  ...timingCases,
  ...codeCases,
];
