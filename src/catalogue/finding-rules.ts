import { codesOfSites, lateralityCode, type SiteTraits } from './body-sites.js';
import { SYSTEMS } from './canonical.js';
import { joints } from './joints.js';
import { LATERALITY_URL } from './laterality.js';
import { movementsOf } from './movements.js';
import { lookFeelObservable, observableCodesOfSide } from './observables.js';
import type { CodeReference, Side } from './types.js';

export type FindingRuleKey =
  'msk-side-1' | 'msk-side-2' | 'msk-side-3' | 'msk-side-4' | 'msk-time-1' | 'msk-value-1';

/** A rule over an Observation as a whole, which no cardinality, pattern or binding of a profile can tell. */
export interface FindingRule {
  /** Key of the invariant in the profiles. */
  readonly key: FindingRuleKey;
  readonly human: string;
  /** In FHIRPath, from the Observation. */
  readonly expression: string;
}

/** What stands in the place of a side and names none: `Unilateral` leaves open which, right and left is two findings. */
export const SIDELESS_QUALIFIERS: readonly CodeReference[] = [
  { system: SYSTEMS.snomed, code: '66459002', display: 'Unilateral (qualifier value)' },
  lateralityCode('both'),
];

const pairsMovedAsOne: readonly string[] = joints
  .filter(({ id, structure }) => structure === 'paired' && !movesBySide(id))
  .map(({ id }) => id);

function movesBySide(joint: string): boolean {
  return movementsOf(joint).some(({ sideRule }) => sideRule === 'per-side');
}

/** Whether a joint is a pair that moves as a whole, as the jaw does: only what is seen and felt of it has a side. */
export function isPairMovedAsOne(joint: string): boolean {
  return pairsMovedAsOne.includes(joint);
}

const SITE = 'bodySite.coding';
const LATERALITY = `bodySite.extension.where(url = '${LATERALITY_URL}').value.ofType(CodeableConcept).coding`;
const SIDES: readonly Side[] = ['left', 'right'];

/** Whether one of the codings in this place is one of these codes, in FHIRPath. */
function holds(place: string, codes: readonly CodeReference[]): string {
  const systems = [...new Set(codes.map(({ system }) => system))];
  const among = systems.map((system) => {
    const own = new Set(codes.filter((one) => one.system === system).map(({ code }) => code));
    return `(system = '${system}' and code.matches('^(${[...own].map(literally).join('|')})$'))`;
  });
  return `${place}.where(${among.join(' or ')}).exists()`;
}

/** A code in a regular expression in a FHIRPath string, where a backslash is written twice. */
function literally(code: string): string {
  return code.replaceAll(/[.+]/g, String.raw`\\$&`);
}

function siteSays(side: Side): string {
  const qualifier = lateralityCode(side);
  return `${holds(SITE, [...codesOfSites({ side }), qualifier])} or ${holds(LATERALITY, [qualifier])}`;
}

function observationSays(side: Side): string {
  return `${holds('code.coding', observableCodesOfSide(side))} or ${siteSays(side)}`;
}

function isAt(traits: SiteTraits): string {
  return holds(SITE, codesOfSites(traits));
}

/** A pair with a side for each finding, or one that moves as a whole and was looked at and felt. */
function needsSide(): string {
  const seenAndFelt = pairsMovedAsOne.flatMap((joint) => lookFeelObservable(joint).codings);
  const byPart = isAt({ isPaired: true, of: (joint) => !isPairMovedAsOne(joint) });
  const byWhole = isAt({ isPaired: true, of: isPairMovedAsOne });
  return `${byPart} or (${byWhole} and ${holds('code.coding', seenAndFelt)})`;
}

/** The rules that each profile of a finding has. Those on sides: left and right are two findings, and never contradict. */
export const findingRules: readonly FindingRule[] = [
  {
    key: 'msk-side-1',
    human: 'The code, the codes of the body site and the extension for its side name one side between them.',
    expression: SIDES.map((side) => `(${observationSays(side)}).not()`).join(' or '),
  },
  {
    key: 'msk-side-2',
    human: 'A site of a pair has its side, left or right, in the extension.',
    expression: `(${needsSide()}) implies ${holds(LATERALITY, SIDES.map(lateralityCode))}`,
  },
  {
    key: 'msk-side-3',
    human:
      'Unilateral, and right and left, are no side of a finding: a finding on both sides is two Observations.',
    expression: `(${holds(SITE, SIDELESS_QUALIFIERS)} or ${holds(LATERALITY, SIDELESS_QUALIFIERS)}).not()`,
  },
  {
    key: 'msk-side-4',
    human: 'A site in the midline has no side; a direction of movement stands in a component.',
    expression: `${isAt({ isPaired: false })} implies (${SIDES.map(siteSays).join(' or ')}).not()`,
  },
  {
    key: 'msk-time-1',
    human: 'The time of the examination is known at least to the day.',
    expression: 'effective.ofType(dateTime).where(hasValue()).all($this.toString().length() >= 10)',
  },
  {
    key: 'msk-value-1',
    human: 'There is a value, a reason why there is none, a component or a member.',
    expression: 'value.exists() or dataAbsentReason.exists() or component.exists() or hasMember.exists()',
  },
];
