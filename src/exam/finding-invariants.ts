import {
  findBodySite,
  findingRules,
  findObservable,
  isPairedSite,
  isPairMovedAsOne,
  LATERALITY_URL,
  lateralityCode,
  SIDELESS_QUALIFIERS,
  type FindingRuleKey,
  type NamedSite,
  type Side,
} from '../catalogue/index.js';
import type { NativeInvariant } from '../fhir/index.js';

type Held = Readonly<Record<string, unknown>>;

interface Coding {
  readonly system: string;
  readonly code: string;
}

/** The codings by which an Observation says what it is about, where, and on which side. */
interface Place {
  readonly code: readonly Coding[];
  readonly site: readonly Coding[];
  readonly laterality: readonly Coding[];
}

const HOLDS: Readonly<Record<FindingRuleKey, (observation: Held) => boolean>> = {
  'msk-side-1': (observation) => saidSides(placeOf(observation)).size < 2,
  'msk-side-2': (observation) => hasItsSide(placeOf(observation)),
  'msk-side-3': (observation) => !isSideless(placeOf(observation)),
  'msk-side-4': (observation) => isMidlineWithoutSide(placeOf(observation)),
  'msk-time-1': ({ effectiveDateTime }) =>
    typeof effectiveDateTime !== 'string' || effectiveDateTime.length >= '2026-03-05'.length,
  'msk-value-1': saysSomething,
};

/** The rules of our profiles in code, which every finding that is written is held to; each agrees with its FHIRPath. */
export const nativeInvariants: readonly NativeInvariant[] = findingRules.map(({ key, expression }) => ({
  key,
  expression,
  holds: HOLDS[key],
}));

function saidSides({ code, site, laterality }: Place): ReadonlySet<Side> {
  const ofCode = code.flatMap((coding) => findObservable(coding.system, coding.code)?.side ?? []);
  return new Set([...ofCode, ...sitesSides({ site, laterality })]);
}

function sitesSides({ site, laterality }: Omit<Place, 'code'>): readonly Side[] {
  return [
    ...site.flatMap((coding) => namedSite(coding)?.side ?? []),
    ...site.flatMap((coding) => sideOfQualifier(coding) ?? []),
    ...laterality.flatMap((coding) => sideOfQualifier(coding) ?? []),
  ];
}

const SIDES: readonly Side[] = ['left', 'right'];
const QUALIFIERS = SIDES.map((side) => ({ ...lateralityCode(side), side }));

function sideOfQualifier({ system, code }: Coding): Side | undefined {
  return QUALIFIERS.find((qualifier) => qualifier.code === code && qualifier.system === system)?.side;
}

function namedSite({ system, code }: Coding): NamedSite | undefined {
  return findBodySite(system, code);
}

function hasItsSide(place: Place): boolean {
  return !needsSide(place) || place.laterality.some((coding) => sideOfQualifier(coding) !== undefined);
}

/** A pair moved as a whole has a side only where it was looked at and felt. */
function needsSide({ code, site }: Place): boolean {
  const paired = site.flatMap((coding) => namedSite(coding) ?? []).filter(isPairedSite);
  const isSeenAndFelt = code.some((coding) => {
    const observable = findObservable(coding.system, coding.code);
    return observable?.kind === 'look-feel' && isPairMovedAsOne(observable.item);
  });
  return paired.some(({ joint }) => isSeenAndFelt || !isPairMovedAsOne(joint));
}

function isSideless({ site, laterality }: Place): boolean {
  return site.some(isSidelessQualifier) || laterality.some(isSidelessQualifier);
}

function isSidelessQualifier({ system, code }: Coding): boolean {
  return SIDELESS_QUALIFIERS.some((qualifier) => qualifier.code === code && qualifier.system === system);
}

function isMidlineWithoutSide(place: Place): boolean {
  const isMidline = place.site.some((coding) => {
    const named = namedSite(coding);
    return named !== undefined && !isPairedSite(named);
  });
  return !isMidline || sitesSides(place).length === 0;
}

function saysSomething(observation: Held): boolean {
  const { component, dataAbsentReason, hasMember } = observation;
  return (
    dataAbsentReason !== undefined ||
    isFilled(component) ||
    isFilled(hasMember) ||
    Object.keys(observation).some((name) => name.startsWith('value') || name.startsWith('_value'))
  );
}

function isFilled(list: unknown): boolean {
  return Array.isArray(list) && list.length > 0;
}

/** What was sent may have any shape: what is not where it belongs says nothing here, and is told by other rules. */
function placeOf({ code, bodySite }: Held): Place {
  const laterality = listIn(bodySite, 'extension')
    .filter((extension) => isHeld(extension) && extension['url'] === LATERALITY_URL)
    .flatMap((extension) => (isHeld(extension) ? codingsOf(extension['valueCodeableConcept']) : []));
  return { code: codingsOf(code), site: codingsOf(bodySite), laterality };
}

function codingsOf(concept: unknown): readonly Coding[] {
  return listIn(concept, 'coding').filter(isCoding);
}

function isCoding(value: unknown): value is Coding {
  return isHeld(value) && typeof value['system'] === 'string' && typeof value['code'] === 'string';
}

function listIn(parent: unknown, name: string): readonly unknown[] {
  const list = isHeld(parent) ? parent[name] : undefined;
  return Array.isArray(list) ? list : [];
}

function isHeld(value: unknown): value is Held {
  return typeof value === 'object' && value !== null;
}
