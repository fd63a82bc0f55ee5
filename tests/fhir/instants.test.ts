import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dateRange, isDate, isDateTime, isInstant, isTime, zoneOffset } from '../../src/fhir/index.js';

const HOUR = 3_600_000;
const ZONES = ['America/New_York', 'Europe/Berlin', 'Australia/Lord_Howe'] as const;

const shown = (text: string, zone = 'UTC'): readonly string[] | undefined => {
  const range = dateRange(text, zone);
  return range && [new Date(range.low).toISOString(), new Date(range.high).toISOString()];
};

const hoursOf = (text: string, zone: string): number => {
  const range = dateRange(text, zone);
  return range === undefined ? Number.NaN : (range.high - range.low) / HOUR;
};

describe('the range of a date', () => {
  // R4 search, date: the precision fixes the range.
  test.each([
    ['2024', '2024-01-01T00:00:00.000Z', '2025-01-01T00:00:00.000Z'],
    ['2024-02', '2024-02-01T00:00:00.000Z', '2024-03-01T00:00:00.000Z'],
    ['2024-12-31', '2024-12-31T00:00:00.000Z', '2025-01-01T00:00:00.000Z'],
    ['2026-03-05T08:10Z', '2026-03-05T08:10:00.000Z', '2026-03-05T08:11:00.000Z'],
    ['2026-03-05T08:10:00-05:00', '2026-03-05T13:10:00.000Z', '2026-03-05T13:10:01.000Z'],
    ['2026-03-05T08:10:00.5+05:30', '2026-03-05T02:40:00.500Z', '2026-03-05T02:40:00.600Z'],
    ['2026-03-05T08:10:00.123Z', '2026-03-05T08:10:00.123Z', '2026-03-05T08:10:00.124Z'],
    ['2026-03-05T08:10:00.123987Z', '2026-03-05T08:10:00.123Z', '2026-03-05T08:10:00.124Z'],
    ['2016-12-31T23:59:60Z', '2017-01-01T00:00:00.000Z', '2017-01-01T00:00:01.000Z'],
    ['0099-12-31', '0099-12-31T00:00:00.000Z', '0100-01-01T00:00:00.000Z'],
  ])('%s reaches from %s to before %s', (text, low, high) => {
    expect(shown(text)).toEqual([low, high]);
  });

  // Energy Policy Act of 2005, section 110 (second Sunday of March, first of November); Directive 2000/84/EC (last
  // Sundays of March and October); Lord Howe Island shifts by half an hour (IANA time zone database).
  test.each([
    ['2026-03-08', 'America/New_York', 23],
    ['2026-11-01', 'America/New_York', 25],
    ['2026-11-02', 'America/New_York', 24],
    ['2026-03-29', 'Europe/Berlin', 23],
    ['2026-10-25', 'Europe/Berlin', 25],
    ['2026-04-05', 'Australia/Lord_Howe', 24.5],
    ['2026-10-04', 'Australia/Lord_Howe', 23.5],
  ])('%s in %s lasts %d hours', (text, zone, hours) => {
    expect(hoursOf(text, zone)).toBe(hours);
  });

  test('a day whose midnight is skipped starts when the clocks jump', () => {
    // IANA: Brazil moved its clocks forward at midnight of 4 November 2018.
    expect(shown('2018-11-04', 'America/Sao_Paulo')?.[0]).toBe('2018-11-04T03:00:00.000Z');
  });

  test('a clock time that occurs twice means the first one', () => {
    expect(shown('2026-11-01T01:30', 'America/New_York')?.[0]).toBe('2026-11-01T05:30:00.000Z');
  });

  test('a clock time that is skipped means the moment of the jump', () => {
    expect(shown('2026-03-08T02:30', 'America/New_York')?.[0]).toBe('2026-03-08T07:00:00.000Z');
  });

  test.each(ZONES)('in %s each day ends where the next one starts', (zone) => {
    const day = fc.integer({ min: 0, max: 40_000 });
    fc.assert(
      fc.property(day, (days) => {
        const [today, tomorrow] = [days, days + 1].map((n) =>
          new Date(n * 24 * HOUR).toISOString().slice(0, 10),
        );
        expect(dateRange(today ?? '', zone)?.high).toBe(dateRange(tomorrow ?? '', zone)?.low);
      }),
    );
  });

  test('an unknown zone is a fault of the settings', () => {
    expect(() => dateRange('2026-03-05', 'Europe/Nowhere')).toThrow(RangeError);
  });

  test('clocks of New York are five hours behind in January and four in July', () => {
    expect(zoneOffset(Date.UTC(2026, 0, 15), 'America/New_York')).toBe(-5 * HOUR);
    expect(zoneOffset(Date.UTC(2026, 6, 15), 'America/New_York')).toBe(-4 * HOUR);
  });
});

describe('a date that is none', () => {
  // R4 datatypes: "Dates SHALL be valid dates"; the Gregorian leap years of 1900, 2000 and 2024.
  test.each([
    '2024-02-30',
    '2023-02-29',
    '1900-02-29',
    '2026-04-31',
    '2026-13',
    '2026-00',
    '0000',
    '26',
    '2026-3-5',
    '2026-03-05T24:00:00Z',
    '2026-03-05T08:60:00Z',
    '2026-03-05T08:10:61Z',
    '2026-03-05T08',
    '2026-03-05T08:10:00+14:01',
    '2026-03-05 08:10:00Z',
    '2026-03-05T08:10:00z',
    ' 2026-03-05',
    '2026-03-05\n',
    '',
  ])('%j is refused', (text) => {
    expect(dateRange(text, 'UTC')).toBeUndefined();
    expect([isDate(text), isDateTime(text), isInstant(text)]).toEqual([false, false, false]);
  });

  test('29 February of a leap year is taken', () => {
    expect([isDate('2024-02-29'), isDate('2000-02-29')]).toEqual([true, true]);
  });

  test('a dateTime with a time needs seconds and a zone', () => {
    expect(isDateTime('2026-03-05T08:10:00Z')).toBe(true);
    expect(isDateTime('2026-03-05T08:10Z')).toBe(false);
    expect(isDateTime('2026-03-05T08:10:00')).toBe(false);
  });

  test('an instant is never only a day', () => {
    expect([isInstant('2026-03-05'), isDateTime('2026-03-05')]).toEqual([false, true]);
  });

  test('a time of day has seconds, no zone, and no 24:00', () => {
    expect(['08:10:00', '23:59:60', '08:10', '24:00:00', '08:10:00Z'].map(isTime)).toEqual([
      true,
      true,
      false,
      false,
      false,
    ]);
  });
});
