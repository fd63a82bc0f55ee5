import { SYSTEMS } from './canonical.js';
import type { Code, CodeReference, Side } from './types.js';

/** A body site as an Observation tells it. */
export interface BodySite {
  /** The standard code of the side where one was seen, else the one without a side; then our own code. */
  readonly codings: readonly CodeReference[];
  /** Side and site in words, e.g. `right knee`. */
  readonly text: string;
  /** For the extension `observation-structureLaterality`, on every site that has a side. */
  readonly laterality?: Code;
}

/** What a body site's code names. */
export interface NamedSite {
  /** Id of a joint, or `hand`, `upper-limb`, `lower-limb`, `upper-arm`, `thigh`, `lower-leg`. */
  readonly joint: string;
  readonly digit?: string;
  readonly digitJoint?: string;
  /** The side, when the code says it. */
  readonly side?: Side;
}

interface SiteRow {
  /** Joint, then digit, then joint of the digit. */
  readonly site: string;
  readonly words: string;
  readonly paired: boolean;
  readonly code?: CodeReference;
  readonly left?: CodeReference;
  readonly right?: CodeReference;
}

/** A coding as it stands in any resource. */
interface CodingLike {
  readonly system?: string | undefined;
  readonly code?: string | undefined;
}

function snomed(code: string, display?: string): CodeReference {
  return { system: SYSTEMS.snomed, code, ...(display !== undefined && { display }) };
}

/**
 * Sites with the SNOMED CT codes that were read in published sources (`snomed-gps`, `hl7-publications`). A joint of
 * a digit without a code of its own has ours.
 */
const siteRows: readonly SiteRow[] = [
  {
    site: 'jaw',
    words: 'jaw',
    paired: true,
    code: snomed('53620006', 'Temporomandibular joint structure (body structure)'),
  },
  {
    site: 'neck',
    words: 'neck',
    paired: false,
    code: snomed('122494005', 'Structure of cervical vertebral column (body structure)'),
  },
  {
    site: 'thoracolumbar',
    words: 'back and trunk',
    paired: false,
    code: snomed('297172009', 'Thoracolumbar region of spine structure (body structure)'),
  },
  {
    site: 'shoulder-girdle',
    words: 'shoulder girdle',
    paired: true,
    code: snomed('26444007', 'Shoulder girdle structure (body structure)'),
  },
  {
    site: 'shoulder',
    words: 'shoulder',
    paired: true,
    code: snomed('16982005', 'Shoulder region structure (body structure)'),
    left: snomed('91775009', 'Structure of left shoulder region'),
    right: snomed('91774008', 'Structure of right shoulder region'),
  },
  {
    site: 'elbow',
    words: 'elbow',
    paired: true,
    code: snomed('127949000', 'Elbow region structure (body structure)'),
    left: snomed('368148009', 'Left elbow region structure'),
    right: snomed('368149001', 'Right elbow region structure'),
  },
  {
    site: 'forearm',
    words: 'forearm',
    paired: true,
    code: snomed('14975008', 'Forearm structure (body structure)'),
    left: snomed('66480008', 'Structure of left forearm'),
    right: snomed('64262003', 'Structure of right forearm'),
  },
  {
    site: 'wrist',
    words: 'wrist',
    paired: true,
    code: snomed('8205005', 'Wrist region structure (body structure)'),
    left: snomed('5951000', 'Structure of left wrist region'),
    right: snomed('9736006', 'Structure of right wrist region'),
  },
  {
    site: 'fingers',
    words: 'fingers',
    paired: true,
    code: snomed('125682004', 'Finger joint structure (body structure)'),
  },
  {
    site: 'thumb',
    words: 'thumb',
    paired: true,
    code: snomed('76505004', 'Thumb structure (body structure)'),
    left: snomed('734143007', 'Structure of left thumb'),
    right: snomed('734144001', 'Structure of right thumb'),
  },
  {
    site: 'hip',
    words: 'hip',
    paired: true,
    code: snomed('29836001', 'Hip region structure (body structure)'),
    left: snomed('287679003', 'Left hip region structure'),
    right: snomed('287579007', 'Right hip region structure'),
  },
  {
    site: 'knee',
    words: 'knee',
    paired: true,
    code: snomed('72696002', 'Knee region structure (body structure)'),
    left: snomed('82169009', 'Structure of left knee region'),
    right: snomed('6757004', 'Structure of right knee region'),
  },
  {
    site: 'ankle',
    words: 'ankle',
    paired: true,
    code: snomed('344001', 'Ankle region structure'),
    left: snomed('51636004', 'Structure of left ankle'),
    right: snomed('6685009', 'Structure of right ankle'),
  },
  {
    site: 'foot',
    words: 'foot',
    paired: true,
    code: snomed('56459004', 'Foot structure (body structure)'),
    left: snomed('22335008', 'Structure of left foot'),
    right: snomed('7769000', 'Structure of right foot'),
  },
  { site: 'toes', words: 'toes', paired: true, code: snomed('29707007', 'Toe structure (body structure)') },
  {
    site: 'hand',
    words: 'hand',
    paired: true,
    code: snomed('85562004', 'Hand structure (body structure)'),
    left: snomed('85151006', 'Structure of left hand (body structure)'),
    right: snomed('78791008', 'Structure of right hand (body structure)'),
  },
  {
    site: 'upper-limb',
    words: 'upper limb',
    paired: true,
    code: snomed('53120007', 'Upper limb structure (body structure)'),
    left: snomed('80768000'),
    right: snomed('6921000'),
  },
  {
    site: 'lower-limb',
    words: 'lower limb',
    paired: true,
    code: snomed('61685007', 'Lower limb structure (body structure)'),
    left: snomed('32153003'),
    right: snomed('62175007'),
  },
  {
    site: 'upper-arm',
    words: 'upper arm',
    paired: true,
    code: snomed('40983000', 'Structure of upper extremity between shoulder and elbow (body structure)'),
    left: snomed('368208006', 'Left upper arm structure'),
    right: snomed('368209003', 'Right upper arm structure'),
  },
  {
    site: 'thigh',
    words: 'thigh',
    paired: true,
    code: snomed('68367000', 'Thigh structure (body structure)'),
    left: snomed('61396006', 'Structure of left thigh'),
    right: snomed('11207009', 'Structure of right thigh'),
  },
  {
    site: 'lower-leg',
    words: 'lower leg',
    paired: true,
    code: snomed('30021000', 'Structure of lower extremity from knee to ankle (body structure)'),
    left: snomed('48979004', 'Structure of left lower leg'),
    right: snomed('32696007', 'Structure of right lower leg'),
  },
  {
    site: 'fingers.index',
    words: 'index finger',
    paired: true,
    code: snomed('83738005', 'Index finger structure'),
    left: snomed('770841009', 'Structure of left index finger'),
    right: snomed('770842002', 'Structure of right index finger'),
  },
  {
    site: 'fingers.middle',
    words: 'middle finger',
    paired: true,
    code: snomed('65531009', 'Middle finger structure'),
    left: snomed('770884005', 'Structure of left middle finger'),
    right: snomed('770885006', 'Structure of right middle finger'),
  },
  {
    site: 'fingers.ring',
    words: 'ring finger',
    paired: true,
    code: snomed('82002001', 'Ring finger structure'),
    left: snomed('770882009', 'Structure of left ring finger'),
    right: snomed('770883004', 'Structure of right ring finger'),
  },
  {
    site: 'fingers.little',
    words: 'little finger',
    paired: true,
    code: snomed('12406000', 'Little finger structure'),
    left: snomed('762101005', 'Structure of left little finger'),
    right: snomed('762102003', 'Structure of right little finger'),
  },
  {
    site: 'toes.great',
    words: 'great toe',
    paired: true,
    code: snomed('78883009', 'Great toe structure'),
    left: snomed('723724004', 'Structure of left great toe'),
    right: snomed('723730004', 'Structure of right great toe'),
  },
  {
    site: 'toes.second',
    words: 'second toe',
    paired: true,
    code: snomed('55078004', 'Second toe structure'),
  },
  { site: 'toes.third', words: 'third toe', paired: true, code: snomed('78132007', 'Third toe structure') },
  {
    site: 'toes.fourth',
    words: 'fourth toe',
    paired: true,
    code: snomed('80349001', 'Fourth toe structure'),
  },
  {
    site: 'toes.little',
    words: 'little toe',
    paired: true,
    code: snomed('39915008', 'Fifth toe structure'),
    left: snomed('895650002', 'Structure of fifth toe of left foot'),
    right: snomed('895651003', 'Structure of fifth toe of right foot'),
  },
  {
    site: 'fingers.index.mcp',
    words: 'knuckle (MCP) of the index finger',
    paired: true,
    code: snomed('289002', 'Metacarpophalangeal joint of index finger'),
  },
  { site: 'fingers.index.pip', words: 'middle joint (PIP) of the index finger', paired: true },
  { site: 'fingers.index.dip', words: 'end joint (DIP) of the index finger', paired: true },
  {
    site: 'fingers.middle.mcp',
    words: 'knuckle (MCP) of the middle finger',
    paired: true,
    code: snomed('6059006', 'Metacarpophalangeal joint of middle finger'),
  },
  { site: 'fingers.middle.pip', words: 'middle joint (PIP) of the middle finger', paired: true },
  { site: 'fingers.middle.dip', words: 'end joint (DIP) of the middle finger', paired: true },
  { site: 'fingers.ring.mcp', words: 'knuckle (MCP) of the ring finger', paired: true },
  { site: 'fingers.ring.pip', words: 'middle joint (PIP) of the ring finger', paired: true },
  { site: 'fingers.ring.dip', words: 'end joint (DIP) of the ring finger', paired: true },
  {
    site: 'fingers.little.mcp',
    words: 'knuckle (MCP) of the little finger',
    paired: true,
    code: snomed('5493005', 'Metacarpophalangeal joint of little finger'),
  },
  { site: 'fingers.little.pip', words: 'middle joint (PIP) of the little finger', paired: true },
  { site: 'fingers.little.dip', words: 'end joint (DIP) of the little finger', paired: true },
  { site: 'thumb.cmc', words: 'base joint (CMC) of the thumb', paired: true },
  { site: 'thumb.mcp', words: 'knuckle (MCP) of the thumb', paired: true },
  { site: 'thumb.ip', words: 'end joint (IP) of the thumb', paired: true },
  { site: 'toes.great.mtp', words: 'base joint (MTP) of the great toe', paired: true },
  {
    site: 'toes.great.ip',
    words: 'end joint (IP) of the great toe',
    paired: true,
    code: snomed('363670009', 'Interphalangeal joint structure of great toe'),
  },
  { site: 'toes.second.mtp', words: 'base joint (MTP) of the second toe', paired: true },
  {
    site: 'toes.second.pip',
    words: 'middle joint (PIP) of the second toe',
    paired: true,
    code: snomed('371292009', 'Proximal interphalangeal joint of second toe'),
  },
  {
    site: 'toes.second.dip',
    words: 'end joint (DIP) of the second toe',
    paired: true,
    code: snomed('371216008', 'Distal interphalangeal joint of second toe'),
  },
  { site: 'toes.third.mtp', words: 'base joint (MTP) of the third toe', paired: true },
  {
    site: 'toes.third.pip',
    words: 'middle joint (PIP) of the third toe',
    paired: true,
    code: snomed('371255009', 'Proximal interphalangeal joint of third toe'),
  },
  {
    site: 'toes.third.dip',
    words: 'end joint (DIP) of the third toe',
    paired: true,
    code: snomed('371219001', 'Distal interphalangeal joint of third toe'),
  },
  { site: 'toes.fourth.mtp', words: 'base joint (MTP) of the fourth toe', paired: true },
  { site: 'toes.fourth.pip', words: 'middle joint (PIP) of the fourth toe', paired: true },
  {
    site: 'toes.fourth.dip',
    words: 'end joint (DIP) of the fourth toe',
    paired: true,
    code: snomed('371205001', 'Distal interphalangeal joint of fourth toe'),
  },
  { site: 'toes.little.mtp', words: 'base joint (MTP) of the little toe', paired: true },
  { site: 'toes.little.pip', words: 'middle joint (PIP) of the little toe', paired: true },
  {
    site: 'toes.little.dip',
    words: 'end joint (DIP) of the little toe',
    paired: true,
    code: snomed('371203008', 'Distal interphalangeal joint of fifth toe'),
  },
];

const sites = new Map(siteRows.map((row) => [row.site, row]));

/** Qualifiers of side, the four that `observation-structureLaterality` is bound to. */
const lateralities = {
  left: { system: SYSTEMS.snomed, code: '7771000', display: 'Left (qualifier value)' },
  right: { system: SYSTEMS.snomed, code: '24028007', display: 'Right (qualifier value)' },
  both: { system: SYSTEMS.snomed, code: '51440002', display: 'Right and left (qualifier value)' },
  midline: { system: SYSTEMS.snomed, code: '399488007', display: 'Midline (qualifier value)' },
} as const satisfies Record<string, Code>;

/** The code of a side. */
export function lateralityCode(side: Side | 'midline' | 'both'): Code {
  return lateralities[side];
}

/** The side that a concept names by the code of left or right. */
export function sideOfConcept(
  concept: { readonly coding?: readonly CodingLike[] | undefined } | undefined,
): Side | undefined {
  const names = (side: Side): boolean =>
    concept?.coding?.some(
      ({ system, code }) => system === SYSTEMS.snomed && code === lateralities[side].code,
    ) ?? false;
  if (names('left')) return 'left';
  return names('right') ? 'right' : undefined;
}

/**
 * The body site of a joint, a side, and where it matters a digit and its joint. Throws on a joint that the catalogue
 * has not and on a side that a midline structure cannot have: the caller has checked both.
 */
export function bodySiteOf(joint: string, side?: Side, digit?: string, digitJoint?: string): BodySite {
  const row = siteRow(joint, digit, digitJoint);
  if (!row.paired && side) throw new RangeError(`the ${row.words} has no side`);
  const own: Code = { system: SYSTEMS.joint, code: row.site, display: row.words };
  const standard = standardCode(row, side);
  return {
    codings: standard ? [standard, own] : [own],
    text: side ? `${side} ${row.words}` : row.words,
    ...(side && { laterality: lateralityCode(side) }),
  };
}

/** The codes that a named site of one side, or of none, goes by when we write it; the side of a midline site is passed over. */
export function writtenSiteCodes(
  { joint, digit, digitJoint }: NamedSite,
  side?: Side,
): readonly CodeReference[] {
  const paired = siteRow(joint, digit, digitJoint).paired;
  return bodySiteOf(joint, paired ? side : undefined, digit, digitJoint).codings;
}

/** The site's own code; a joint of a digit without one goes by that of its digit, which is wider but true. */
function standardCode(row: SiteRow, side: Side | undefined): CodeReference | undefined {
  const exact = (side && row[side]) ?? row.code;
  const wider = sites.get(row.site.slice(0, row.site.lastIndexOf('.')));
  return exact ?? (wider && standardCode(wider, side));
}

function siteRow(joint: string, digit?: string, digitJoint?: string): SiteRow {
  const site = [joint, digit, digitJoint].filter((part) => part !== undefined).join('.');
  const row = sites.get(site);
  if (!row) throw new RangeError(`no such body site: ${site}`);
  return row;
}

/** Whether the digit, or the joint of the digit, is one that the joint has. */
export function hasSite(joint: string, digit?: string, digitJoint?: string): boolean {
  return sites.has([joint, digit, digitJoint].filter((part) => part !== undefined).join('.'));
}

/** What a code of a body site names: ours, or the standard one that only one site has. */
export function findBodySite(system: string, code: string): NamedSite | undefined {
  return siteByCode.get(`${system}|${code}`);
}

const siteByCode: ReadonlyMap<string, NamedSite> = new Map(
  siteRows.flatMap(({ site, code, left, right }) => {
    const named: readonly (readonly [CodeReference | undefined, NamedSite])[] = [
      [{ system: SYSTEMS.joint, code: site }, namedSite(site)],
      [code, namedSite(site)],
      [left, namedSite(site, 'left')],
      [right, namedSite(site, 'right')],
    ];
    return named.flatMap(([one, meant]) => (one ? [[`${one.system}|${one.code}`, meant] as const] : []));
  }),
);

/** The most exact site that the codings of a body site name: our own code before a standard one, which may be wider. */
export function siteOfCodings(codings: readonly CodingLike[]): NamedSite | undefined {
  const found = codings.map(({ system = '', code = '' }) => ({ system, site: findBodySite(system, code) }));
  const own = found.find(({ system, site }) => system === SYSTEMS.joint && site)?.site;
  const standard = found.find(({ system, site }) => system !== SYSTEMS.joint && site)?.site;
  return own ? { ...own, ...(standard?.side && { side: standard.side }) } : standard;
}

function namedSite(site: string, side?: Side): NamedSite {
  const [joint = site, first, second] = site.split('.');
  const [digit, digitJoint] = joint === 'thumb' ? [undefined, first] : [first, second];
  return {
    joint,
    ...(digit !== undefined && { digit }),
    ...(digitJoint !== undefined && { digitJoint }),
    ...(side && { side }),
  };
}

/** Whether what the code of a body site names is one of a pair. */
export function isPairedSite({ joint, digit, digitJoint }: NamedSite): boolean {
  return siteRow(joint, digit, digitJoint).paired;
}

/** Which codes of sites are asked for: those that say a side; or the codes, sided or not, of pairs or of the midline. */
export type SiteTraits =
  { readonly side: Side } | { readonly isPaired: boolean; readonly of?: (joint: string) => boolean };

/** The codes of all sites with these traits, our own among them. */
export function codesOfSites(traits: SiteTraits): readonly CodeReference[] {
  if ('side' in traits) return siteRows.flatMap((row) => row[traits.side] ?? []);
  const { isPaired, of = () => true } = traits;
  return siteRows
    .filter(({ site, paired }) => paired === isPaired && of(namedSite(site).joint))
    .flatMap(({ site, code, left, right }) => [
      { system: SYSTEMS.joint, code: site },
      ...[code, left, right].filter((one) => one !== undefined),
    ]);
}

/** Every site's own code, for the CodeSystem. */
export const siteCodes: readonly Code[] = siteRows.map(({ site, words }) => ({
  system: SYSTEMS.joint,
  code: site,
  display: words,
}));

/** Every standard code of a site, for the checks on codes. */
export const standardSiteCodes: readonly CodeReference[] = siteRows.flatMap(({ code, left, right }) =>
  [code, left, right].filter((one) => one !== undefined),
);
