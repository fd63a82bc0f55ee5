/**
 * The moments that a FHIR date text covers, in milliseconds since 1970 (UTC); `high` is exclusive.
 * R4 search, date: "every date has an implicit range, fixed by its precision".
 */
export interface MomentRange {
  readonly low: number;
  readonly high: number;
}

/**
 * The range of a FHIR `date`, `dateTime` or `instant`, or of a date in a search (there the seconds may be left out).
 * A text without a zone is read on the wall clock of `siteZone` (an IANA name), so a day may last 23 or 25 hours; a
 * clock time that occurs twice means the first, one that is skipped means the moment the clocks jump to.
 * Undefined when the text is no date or the day does not exist (2024-02-30). An instant of milliseconds covers one.
 * Throws a RangeError on an unknown zone, which is a fault of the settings.
 */
export function dateRange(text: string, siteZone: string): MomentRange | undefined {
  const parts = parseDateTime(text);
  if (parts === undefined) return undefined;
  const { start, end, time } = parts;
  if (time === undefined) return { low: momentAt(start, siteZone), high: momentAt(end, siteZone) };
  const low = time.offset === undefined ? momentAt(start, siteZone) : start - time.offset;
  return { low, high: low + (end - start) };
}

/** Whether the text is an R4 `date`: a year, a month or a day that exists. */
export function isDate(text: string): boolean {
  const parts = parseDateTime(text);
  return parts !== undefined && parts.time === undefined;
}

/** Whether the text is an R4 `dateTime`: a date, or a day with a time down to the second and a zone. */
export function isDateTime(text: string): boolean {
  const parts = parseDateTime(text);
  return parts !== undefined && (parts.time === undefined || isExact(parts.time));
}

/** Whether the text is an R4 `instant`: a day with a time down to the second or finer, and a zone. */
export function isInstant(text: string): boolean {
  const time = parseDateTime(text)?.time;
  return time !== undefined && isExact(time);
}

/** Whether the text is an R4 `time`: a clock time to the second, without a zone; 24:00 is none. */
export function isTime(text: string): boolean {
  return TIME.test(text);
}

/**
 * How far the clocks of a zone are ahead of UTC at a moment, in milliseconds (New York in January: -18,000,000).
 * Throws a RangeError on an unknown zone.
 */
export function zoneOffset(moment: number, zone: string): number {
  if (zone === 'UTC') return 0;
  const match = SHOWN_OFFSET.exec(clockOf(zone).format(moment));
  if (match === null) return 0;
  const [, sign, hours, minutes, seconds = '0'] = match;
  const ahead = (Number(hours) * 60 + Number(minutes)) * MINUTE_MS + Number(seconds) * 1000;
  return sign === '-' ? -ahead : ahead;
}

/** The end of a text that Intl writes with `timeZoneName: 'longOffset'`; a plain GMT has no sign. */
const SHOWN_OFFSET = /GMT([+-])(\d\d):(\d\d)(?::(\d\d))?$/;

interface ParsedDateTime {
  /** First and last (exclusive) wall-clock moment, as if the clock ran in UTC. */
  readonly start: number;
  readonly end: number;
  readonly time?: ParsedTime;
}

interface ParsedTime {
  readonly hasSeconds: boolean;
  /** Ahead of UTC, in milliseconds; absent without a zone. */
  readonly offset?: number;
}

const isExact = (time: ParsedTime): boolean => time.hasSeconds && time.offset !== undefined;

const CLOCK = String.raw`([01]\d|2[0-3]):([0-5]\d)`;
/** R4 datatypes, `time`; a leap second (`:60`) is allowed. */
const TIME = new RegExp(String.raw`^${CLOCK}:([0-5]\d|60)(\.\d+)?$`);
/** R4 datatypes, `dateTime`, with the seconds and the zone left open for search. */
const DATE_TIME = new RegExp(
  String.raw`^(\d{4})(?:-(0[1-9]|1[0-2])(?:-(0[1-9]|[12]\d|3[01])(?:T${CLOCK}(?::([0-5]\d|60)(\.\d+)?)?(Z|[+-](?:(?:0\d|1[0-3]):[0-5]\d|14:00))?)?)?)?$`,
);

const MINUTE_MS = 60_000;

function parseDateTime(text: string): ParsedDateTime | undefined {
  const match = DATE_TIME.exec(text);
  if (match === null) return undefined;
  const [, yearText = '', monthText, dayText, hourText, minuteText, secondText, fractionText, zoneText] =
    match;
  const year = Number(yearText);
  if (year === 0) return undefined;
  if (monthText === undefined) return { start: wallClock(year), end: wallClock(year + 1) };
  const month = Number(monthText);
  if (dayText === undefined) return { start: wallClock(year, month), end: wallClock(year, month + 1) };
  const day = Number(dayText);
  if (day > daysIn(year, month)) return undefined;
  if (hourText === undefined)
    return { start: wallClock(year, month, day), end: wallClock(year, month, day + 1) };
  const minuteStart = wallClock(year, month, day, Number(hourText), Number(minuteText));
  const offset = zoneText === undefined ? {} : { offset: offsetOf(zoneText) };
  const time = { hasSeconds: secondText !== undefined, ...offset };
  if (secondText === undefined) return { start: minuteStart, end: minuteStart + MINUTE_MS, time };
  const { low, high } = secondsRange(Number(secondText), fractionText);
  return { start: minuteStart + low, end: minuteStart + high, time };
}

/** The milliseconds of the minute that seconds with these decimals cover: 10.5 is 10,500 to 10,600; at least one. */
function secondsRange(second: number, fraction: string | undefined): MomentRange {
  const digits = fraction?.slice(1, 4) ?? '';
  const low = second * 1000 + Number(digits.padEnd(3, '0'));
  return { low, high: low + 10 ** (3 - digits.length) };
}

/** `Date.UTC` without its reading of the years 0 to 99 as 1900 to 1999; month 1 to 12. */
function wallClock(year: number, month = 1, day = 1, hour = 0, minute = 0): number {
  if (year >= 100) return Date.UTC(year, month - 1, day, hour, minute);
  return new Date(Date.UTC(2000, 0, 1, hour, minute)).setUTCFullYear(year, month - 1, day);
}

/** Days of a month in the Gregorian calendar, month 1 to 12. */
function daysIn(year: number, month: number): number {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Milliseconds ahead of UTC of `Z` or `+hh:mm`. */
function offsetOf(zone: string): number {
  if (zone === 'Z') return 0;
  const ahead = (Number(zone.slice(1, 3)) * 60 + Number(zone.slice(4, 6))) * MINUTE_MS;
  return zone.startsWith('-') ? -ahead : ahead;
}

const DAY_MS = 24 * 60 * MINUTE_MS;

/** The first moment at which the zone's wall clock shows this time or, where it is skipped, has passed it. */
function momentAt(wall: number, zone: string): number {
  const before = zoneOffset(wall - DAY_MS, zone);
  const after = zoneOffset(wall + DAY_MS, zone);
  if (before === after) return wall - before;
  const early = wall - Math.max(before, after);
  const late = wall - Math.min(before, after);
  if (early + zoneOffset(early, zone) === wall) return early;
  if (late + zoneOffset(late, zone) === wall) return late;
  return firstMomentWith(after, early, late, zone);
}

/** Where within `from`..`to` the zone changes to this offset, to the millisecond. */
function firstMomentWith(offset: number, from: number, to: number, zone: string): number {
  let [low, high] = [from, to];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (zoneOffset(middle, zone) === offset) high = middle;
    else low = middle;
  }
  return high;
}

/** Making a formatter costs a hundred times its use; a site has one zone. */
const clocks = new Map<string, Intl.DateTimeFormat>();

function clockOf(zone: string): Intl.DateTimeFormat {
  const known = clocks.get(zone);
  if (known !== undefined) return known;
  const clock = new Intl.DateTimeFormat('en-US', { timeZone: zone, timeZoneName: 'longOffset' });
  clocks.set(zone, clock);
  return clock;
}
