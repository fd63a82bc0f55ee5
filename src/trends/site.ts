import type { Observation } from 'fhir/r4.js';
import {
  writtenSiteCodes,
  findMovement,
  findObservable,
  lateralityCode,
  sidesOf,
  siteOfCodings,
  type NamedSite,
  type Observable,
} from '../catalogue/index.js';
import type { FhirIssue, Lossless, TokenValue } from '../fhir/index.js';

type Sent = Lossless<Observation>;

/**
 * What an Observation is found by beyond its own words: the codes of its site and side as we write them, where another
 * system says them otherwise (in the code alone, by another coding, without the extension). None where its parts name
 * two sides.
 */
export function siteTokensOf(observation: Sent): readonly TokenValue[] {
  const [side, other] = sidesOf(observation);
  if (other !== undefined) return [];
  const site = siteOf(observation);
  const codes = site === undefined ? [] : writtenSiteCodes(site, side);
  return [
    ...codes.map((code) => tokenOf('-body-site', code)),
    ...(side === undefined ? [] : [tokenOf('-laterality', lateralityCode(side))]),
  ];
}

function tokenOf(
  parameter: string,
  { system, code, display }: { readonly system: string; readonly code: string; readonly display?: string },
): TokenValue {
  return { parameter, system, code, ...(display === undefined ? {} : { text: display }) };
}

/** The site that the body site names, else the one that the code goes without saying. */
function siteOf({ bodySite, code }: Sent): NamedSite | undefined {
  const named = siteOfCodings(bodySite?.coding ?? []);
  if (named !== undefined || bodySite !== undefined) return named;
  const observable = (code.coding ?? [])
    .map(({ system = '', code: own = '' }) => findObservable(system, own))
    .find((found) => found !== undefined);
  return observable === undefined ? undefined : impliedSite(observable);
}

function impliedSite({ kind, item }: Observable): NamedSite | undefined {
  const joint = JOINTS_SAID[kind]?.(item);
  return joint === undefined ? undefined : { joint };
}

/** The kinds of observable whose code says the joint. */
const JOINTS_SAID: Readonly<Partial<Record<Observable['kind'], (item: string) => string | undefined>>> = {
  grip: () => 'hand',
  range: (movement) => findMovement(movement)?.joint,
  strength: (movement) => findMovement(movement)?.joint,
  'look-feel': (joint) => joint,
  'joint-exam': (joint) => joint,
};

/** What keeps a valid Observation out of every series though its code is understood. */
export function remarksOn(observation: Sent): readonly FhirIssue[] {
  const sides = sidesOf(observation);
  if (sides.length < 2) return [];
  const diagnostics =
    'The code, the body site and its extension say both left and right; it is kept as sent, is found by its own words alone, and enters no series.';
  const place = { rule: 'sides-disagree', expression: 'Observation.bodySite', diagnostics, found: sides };
  return [{ severity: 'warning', code: 'business-rule', ...place }];
}
