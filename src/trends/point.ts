import { Big } from 'big.js';
import type { Observation, ObservationComponent, Quantity } from 'fhir/r4.js';
import {
  DETAIL_SIDE_URL,
  findConversion,
  findGripUnit,
  findMeasure,
  findObservable,
  findStrengthGrade,
  findUnitByWord,
  painScale,
  seriesDigit,
  seriesItem,
  sideOfConcept,
  sidesOf,
  siteOfCodings,
  SYSTEMS,
  type DetailCode,
  type NamedSite,
  type Observable,
  type Side,
} from '../catalogue/index.js';
import { dateRange, given, type Lossless } from '../fhir/index.js';

/** What makes measured points comparable: they differ in nothing but their time and value (TR-01). */
export interface SeriesWords {
  /** The item of `seriesItem`: `knee.flexion`, `knee.extension-lacks`, `grip`, `knee.circumference`, `pain-rest`. */
  readonly item: string;
  readonly measure: 'range' | 'strength' | 'grip' | 'measure' | 'pain';
  readonly side?: Side;
  /** Direction of a midline movement; never a side. */
  readonly direction?: Side;
  readonly mode?: string;
  /** Id of the method; a trend never mixes methods. */
  readonly method?: string;
  /** Where on the limb a circumference was taken. */
  readonly level?: string;
  /** Handle position of a dynamometer, 1 to 5; or for pain the movement that hurt. */
  readonly position?: string;
  /** How a grip follows from its trials. */
  readonly rule?: string;
  readonly device?: string;
  /** The digit, with its joint: `ring`, `ring.pip`. */
  readonly digit?: string;
  /** UCUM code: deg, mm, kgf, that of the measure; `1` for a strength grade. As sent where it cannot be converted. */
  readonly unit: string;
}

/** One measured value of an Observation. */
export interface Point extends SeriesWords {
  readonly value: number;
  /** The digits as typed; those of the exact conversion where the unit was converted. A grade as written: `4-`. */
  readonly digits: string;
  /** When it was so, in milliseconds since 1970 (UTC). */
  readonly effective: number;
  /** Status of the Observation; the reader decides what counts. */
  readonly status: string;
  /** Whether it stands for "within expected limits" rather than a measurement. */
  readonly asExpected: boolean;
  /** Place of the component in the resource, from 1; 0 for the resource's own value. */
  readonly component: number;
}

type Sent = Lossless<Observation>;
type SentComponent = Lossless<ObservationComponent>;

/**
 * The measured values of an Observation, ours or another system's, as far as its code, side and unit are understood:
 * none where the code is unknown, the time is missing, or its parts name two sides. A date without a time is read on
 * the clock of `siteZone` (an IANA name).
 */
export function pointsOf(observation: Sent, siteZone: string): readonly Point[] {
  const effective = effectiveOf(observation, siteZone);
  const observable = observableOf(observation.code);
  const sides = sidesOf(observation);
  if (effective === undefined || observable === undefined || sides.length > 1) return [];
  const common = given({ side: sides[0], effective, status: observation.status });
  if (observable.kind === 'joint-exam') return expectedPoints(observation, common);
  const words = wordsOf(observation, observable);
  const amount = amountOf(observation, observable);
  return words && amount ? [{ ...common, ...words, ...amount, asExpected: false, component: 0 }] : [];
}

interface Common {
  readonly side?: Side;
  readonly effective: number;
  readonly status: string;
}

/** The start of the range of time that the Observation is of. */
function effectiveOf(observation: Sent, siteZone: string): number | undefined {
  const { effectiveDateTime, effectiveInstant, effectivePeriod } = observation;
  const text = effectiveDateTime ?? effectiveInstant ?? effectivePeriod?.start;
  return text === undefined ? undefined : dateRange(text, siteZone)?.low;
}

function observableOf(concept: Sent['code']): Observable | undefined {
  return concept.coding
    ?.map(({ system = '', code = '' }) => findObservable(system, code))
    .find((found) => found !== undefined);
}

/** Strength within expected limits: grade 5 of each movement that was examined. */
function expectedPoints({ component = [] }: Sent, common: Common): readonly Point[] {
  return component.flatMap((said, index) => {
    const observable = observableOf(said.code);
    const grade = observable?.kind === 'strength' ? gradeOf(said) : undefined;
    if (observable === undefined || grade === undefined) return [];
    const direction = sideOfConcept(extensionOf(said, DETAIL_SIDE_URL)?.valueCodeableConcept);
    const words = given({ item: seriesItem(observable), measure: 'strength' as const, direction });
    return [{ ...common, ...words, ...grade, asExpected: true, component: index + 1 }];
  });
}

function extensionOf(
  { extension }: SentComponent,
  url: string,
): NonNullable<SentComponent['extension']>[number] | undefined {
  return extension?.find((one) => one.url === url);
}

type Words = Omit<SeriesWords, 'side' | 'unit'>;
type WordReader = (observation: Sent, observable: Observable) => Words;

function wordsOf(observation: Sent, observable: Observable): Words | undefined {
  return WORD_READERS[observable.kind]?.(observation, observable);
}

/** The kinds of observable that are measured. */
const WORD_READERS: Readonly<Partial<Record<Observable['kind'], WordReader>>> = {
  range: (observation, observable) =>
    given({
      ...movementWords(observation, observable),
      measure: 'range' as const,
      mode: observable.mode,
      method: codeIn(observation.method, SYSTEMS.method),
    }),
  strength: (observation, observable) => ({
    ...movementWords(observation, observable),
    measure: 'strength',
  }),
  grip: gripWords,
  measure: (observation, observable) =>
    given({
      item: seriesItem(observable, siteOf(observation)?.joint),
      measure: 'measure' as const,
      method: codeIn(observation.method, SYSTEMS.method),
      level: detailOf(observation, 'level')?.valueString,
    }),
  pain: (observation, observable) =>
    given({
      item: seriesItem(observable, siteOf(observation)?.joint),
      measure: 'pain' as const,
      direction: directionOf(observation),
      mode: wordOf(observation, 'mode'),
      position: wordOf(observation, 'movement'),
    }),
};

function siteOf({ bodySite }: Sent): NamedSite | undefined {
  return siteOfCodings(bodySite?.coding ?? []);
}

function movementWords(
  observation: Sent,
  observable: Observable,
): Pick<Words, 'item' | 'direction' | 'digit'> {
  const site = siteOf(observation);
  return given({
    item: seriesItem(observable),
    direction: directionOf(observation),
    digit: seriesDigit(site?.digit, site?.digitJoint),
  });
}

function gripWords(observation: Sent, observable: Observable): Words {
  const handle = detailOf(observation, 'handle-position')?.valueInteger;
  return given({
    item: seriesItem(observable),
    measure: 'grip' as const,
    rule: wordOf(observation, 'trial-rule'),
    device: wordOf(observation, 'device'),
    position: handle === undefined ? undefined : String(handle),
  });
}

function directionOf(observation: Sent): Side | undefined {
  return sideOfConcept(detailOf(observation, 'direction')?.valueCodeableConcept);
}

function detailOf({ component }: Sent, detail: DetailCode): SentComponent | undefined {
  return component?.find(({ code }) => codeIn(code, SYSTEMS.detail) === detail);
}

function wordOf(observation: Sent, detail: DetailCode): string | undefined {
  return codeIn(detailOf(observation, detail)?.valueCodeableConcept, SYSTEMS.word);
}

function codeIn(concept: Sent['code'] | undefined, system: string): string | undefined {
  return concept?.coding?.find((coding) => coding.system === system)?.code;
}

type Amount = Pick<Point, 'value' | 'digits' | 'unit'>;

function amountOf(observation: Sent, observable: Observable): Amount | undefined {
  if (observable.kind === 'strength') return gradeOf(observation) ?? wholeGrade(observation);
  const { valueQuantity } = observation;
  if (valueQuantity?.value === undefined || valueQuantity.comparator !== undefined) return undefined;
  return inUnit(
    String(valueQuantity.value),
    ucumOf(valueQuantity, observable),
    unitOf(observable, valueQuantity),
  );
}

/** A grade of our CodeSystem: its place on the scale, and the grade as written. */
function gradeOf({ valueCodeableConcept }: Pick<Sent, 'valueCodeableConcept'>): Amount | undefined {
  const grade = codeIn(valueCodeableConcept, SYSTEMS.strengthGrade);
  const row = grade === undefined ? undefined : findStrengthGrade(grade);
  return row && { value: row.ordinal, digits: row.grade, unit: '1' };
}

/** A grade that another system sent as a whole number from 0 to 5. */
function wholeGrade({ valueInteger, valueQuantity }: Sent): Amount | undefined {
  const sent = valueInteger ?? valueQuantity?.value;
  const row = sent === undefined ? undefined : findStrengthGrade(String(sent));
  return row && { value: row.ordinal, digits: row.grade, unit: '1' };
}

/** The unit in which an observable is trended. */
function unitOf({ kind, item }: Observable, sent: Lossless<Quantity>): string {
  if (kind === 'grip') return 'kgf';
  if (kind === 'pain') return painScale.unit;
  if (kind === 'measure') return findMeasure(item)?.unit ?? sentUnit(sent);
  return sentUnit(sent) === 'cm' ? 'mm' : sentUnit(sent);
}

/** The code of the unit as sent; of one in words alone the code that they mean, else the words. */
function sentUnit({ code, unit }: Lossless<Quantity>): string {
  return code ?? (unit === undefined ? '1' : (findUnitByWord(unit)?.code ?? unit));
}

/** A dynamometer's kilogram and pound are forces, whichever of the UCUM codes was sent. */
const DYNAMOMETER: Readonly<Record<string, string>> = { kg: 'kgf', '[lb_av]': '[lbf_av]' };

function ucumOf(sent: Lossless<Quantity>, { kind }: Observable): string {
  const unit = sentUnit(sent);
  if (kind !== 'grip') return unit;
  return DYNAMOMETER[unit] ?? (sent.code === undefined ? findGripUnit(unit)?.unit : undefined) ?? unit;
}

/** Converted exactly where a conversion is known; otherwise as it is, a series of its own. Never guessed from size. */
function inUnit(digits: string, from: string, to: string): Amount {
  if (from === to) return { value: Number(digits), digits, unit: to };
  const conversion = findConversion(from, to);
  if (conversion === undefined) return { value: Number(digits), digits, unit: from };
  const converted = new Big(digits).times(conversion.times).div(conversion.by);
  return { value: converted.toNumber(), digits: converted.round(decimalsOf(digits) + 2).toFixed(), unit: to };
}

function decimalsOf(digits: string): number {
  return /\.(\d+)/.exec(digits)?.[1]?.length ?? 0;
}
