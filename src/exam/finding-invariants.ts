import {
  findBodySite,
  findingRules,
  findObservable,
  isPairedSite,
  isPairMovedAsOne,
  LATERALITY_URL,
  sideOfConcept,
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
    ...[...site, ...laterality].flatMap((coding) => sideOfConcept({ coding: [coding] }) ?? []),
  ];
}

function namedSite({ system, code }: Coding): NamedSite | undefined {
  return findBodySite(system, code);
}

function hasItsSide(place: Place): boolean {
  return !needsSide(place) || sitesSides({ site: [], laterality: place.laterality }).length > 0;
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
  return [...site, ...laterality].some(({ system, code }) =>
    SIDELESS_QUALIFIERS.some((qualifier) => qualifier.system === system && qualifier.code === code),
  );
}

function isMidlineWithoutSide(place: Place): boolean {
  const isMidline = place.site.some((coding) => {
    const named = namedSite(coding);
    return named !== undefined && !isPairedSite(named);
  });
  return !isMidline || sitesSides(place).length === 0;
}

function saysSomething(observation: Held): boolean {
  return Object.entries(observation).some(
    ([name, held]) =>
      /^_?value[A-Z]/.test(name) ||
      name === 'dataAbsentReason' ||
      ((name === 'component' || name === 'hasMember') && Array.isArray(held) && held.length > 0),
  );
}

/** What was sent may have any shape: what is not where it belongs says nothing here, and is told by other rules. */
function placeOf({ code, bodySite }: Held): Place {
  const laterality = listIn(bodySite, 'extension')
    .filter((extension) => isHeld(extension) && extension['url'] === LATERALITY_URL)
    .flatMap((extension) => (isHeld(extension) ? codingsOf(extension['valueCodeableConcept']) : []));
  return { code: codingsOf(code), site: codingsOf(bodySite), laterality };
}

function codingsOf(concept: unknown): readonly Coding[] {
  return listIn(concept, 'coding').flatMap((coding) => {
    if (!isHeld(coding)) return [];
    const { system, code } = coding;
    return typeof system === 'string' && typeof code === 'string' ? [{ system, code }] : [];
  });
}

function listIn(parent: unknown, name: string): readonly unknown[] {
  const list = isHeld(parent) ? parent[name] : undefined;
  return Array.isArray(list) ? list : [];
}

function isHeld(value: unknown): value is Held {
  return typeof value === 'object' && value !== null;
}
