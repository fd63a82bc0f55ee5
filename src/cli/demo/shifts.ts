/** Zone of the demo ward. Its clocks go forward in the week told: Sunday 8 March 2026, 02:00 becomes 03:00. */
export const DEMO_TIME_ZONE = 'America/New_York';

/** One of the 14 shifts of the demo week, Monday 2 March to Sunday 8 March 2026; day 07:00 to 19:00, then night. */
export interface DemoShift {
  /** 1 (Monday day) to 14 (Sunday night). */
  readonly number: number;
  /** Day of the week told, 1 (Monday) to 7 (Sunday). */
  readonly day: number;
  readonly kind: 'day' | 'night';
  /** The three nurses of the shift; each has the patients of one third of the beds. */
  readonly nurses: readonly [string, string, string];
}

type Team = DemoShift['nurses'];

const TEAMS = {
  a: ['DEMO-RN-01', 'DEMO-RN-02', 'DEMO-RN-03'],
  b: ['DEMO-RN-04', 'DEMO-RN-05', 'DEMO-RN-06'],
  c: ['DEMO-RN-07', 'DEMO-RN-08', 'DEMO-RN-09'],
  d: ['DEMO-RN-10', 'DEMO-RN-11', 'DEMO-RN-12'],
} as const satisfies Record<string, Team>;

/** Who is on, shift by shift: three or four shifts a week each, never a day straight after a night. */
const ROTA: readonly (keyof typeof TEAMS)[] = [
  ...(['a', 'b', 'a', 'b', 'a', 'c', 'd'] as const),
  ...(['c', 'd', 'c', 'b', 'd', 'b', 'd'] as const),
];

/** The 14 shifts in time order. */
export const demoShifts: readonly DemoShift[] = ROTA.map((team, index) => ({
  number: index + 1,
  day: Math.floor(index / 2) + 1,
  kind: index % 2 === 0 ? 'day' : 'night',
  nurses: TEAMS[team],
}));

/** The shift of a number from 1 to 14. */
export function demoShift(number: number): DemoShift {
  const shift = demoShifts[number - 1];
  if (shift === undefined) throw new RangeError(`no shift ${number}`);
  return shift;
}

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
/** 8 March 2026, 02:00 Eastern Standard Time (second Sunday of March: US Energy Policy Act of 2005, section 110). */
const CLOCK_CHANGE_MS = Date.UTC(2026, 2, 8, 7);
const STANDARD_OFFSET_HOURS = 5;
const SUMMER_OFFSET_HOURS = 4;

/**
 * The instant at which the ward's clock shows `clock` (`HH:MM`) in a shift, with its offset; hours before noon belong
 * to the night's second date. Throws for a time that the clock change leaves out.
 */
export function instantAt(shift: DemoShift, clock: string): string {
  const [hour = Number.NaN, minute = Number.NaN] = clock.split(':').map(Number);
  const isNextDate = shift.kind === 'night' && hour < 12;
  const wallMs = Date.UTC(2026, 2, shift.day + (isNextDate ? 2 : 1), hour, minute);
  const standardMs = wallMs + STANDARD_OFFSET_HOURS * HOUR_MS;
  if (standardMs < CLOCK_CHANGE_MS) return writeInstant(standardMs);
  const summerMs = wallMs + SUMMER_OFFSET_HOURS * HOUR_MS;
  if (summerMs < CLOCK_CHANGE_MS) throw new RangeError(`the clocks leave out ${clock} on 8 March 2026`);
  return writeInstant(summerMs);
}

/** The instant some minutes of real time later. */
export function minutesLater(instant: string, minutes: number): string {
  return writeInstant(Date.parse(instant) + minutes * MINUTE_MS);
}

function writeInstant(ms: number): string {
  const offsetHours = ms < CLOCK_CHANGE_MS ? STANDARD_OFFSET_HOURS : SUMMER_OFFSET_HOURS;
  const wallClock = new Date(ms - offsetHours * HOUR_MS).toISOString().slice(0, 19);
  return `${wallClock}-0${offsetHours}:00`;
}
