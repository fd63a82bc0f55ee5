import { readFigures, type Figure, type FigureGroup } from './figures.js';
import { findMovement } from './movements.js';

/** One figure of how far a movement goes, in degrees or millimetres. */
export interface RangeFigure extends Figure, FigureGroup {
  /** List it belongs to; a figure is named with its list, since the lists differ. */
  readonly table: string;
  /** Joint and movement as the list has them. */
  readonly of: string;
  /** Id of the movement, where the catalogue has it. */
  readonly movement?: string;
  /** The single value of a handbook list. */
  readonly value?: number;
  readonly low?: number;
  readonly high?: number;
  /** The least value rated as no loss. */
  readonly atLeast?: number;
  readonly mean?: number;
  readonly sd?: number;
  readonly plusMinus?: number;
  /** 95 % confidence interval of the mean: not a normal range. */
  readonly ci95?: readonly [number, number];
  readonly note?: string;
}

/** A list of figures. */
export interface RangeTable {
  readonly table: string;
  /** Its name as it is shown beside a figure. */
  readonly name: string;
  readonly what: string;
}

export const rangeTables: readonly RangeTable[] = [
  {
    table: 'va-38cfr',
    name: 'US rating schedule (38 CFR 4.71)',
    what: 'one value per movement, whole body but the toes',
  },
  {
    table: 'aaos',
    name: 'AAOS handbook',
    what: 'one value per movement, the list most taught; not a lower limit',
  },
  { table: 'ama', name: 'AMA Guides', what: 'the least value rated as no loss' },
  { table: 'ama-1990s', name: 'AMA Guides, earlier edition', what: 'differs from the later list' },
  {
    table: 'cdc-soucie-2011',
    name: 'CDC study (Soucie 2011)',
    what: 'measured passive motion by sex and age',
  },
  { table: 'merck-manual', name: 'Merck Manual table', what: 'one value per movement, all ages' },
  { table: 'eaton-hand', name: 'Textbook of hand surgery', what: 'hand, wrist and forearm of adults' },
  { table: 'textbook-ranges', name: 'Textbook ranges', what: 'ranges of the upper limb' },
  { table: 'study-watanabe-0-2y', name: 'Watanabe (0 to 2 years)', what: 'means of infants' },
  { table: 'study-boone-azen', name: 'Boone and Azen (1 to 54 years)', what: 'means of males' },
  { table: 'study-greene-wolf', name: 'Greene and Wolf (18 to 55 years)', what: 'means of adults' },
  { table: 'study-walker', name: 'Walker (65 to 85 years)', what: 'means of older adults' },
  { table: 'study-macedo-magee', name: 'Macedo and Magee (18 to 59 years)', what: 'means of women' },
  { table: 'aaos-1994-mean', name: 'AAOS 1994 means', what: 'means, with the deviation where read' },
  { table: 'boone-azen-sd', name: 'Boone and Azen, with deviation', what: 'means and deviation of males' },
  { table: 'tmj', name: 'Jaw opening of adults', what: 'millimetres' },
  { table: 'tmj-patients', name: 'Jaw opening of patients', what: 'millimetres' },
  { table: 'tmj-threshold', name: 'Jaw opening, proposed limits', what: 'millimetres' },
  { table: 'hip-rotation-supine', name: 'Hip rotation, lying on the back', what: 'measured' },
  { table: 'hip-rotation-prone', name: 'Hip rotation, lying face down', what: 'measured' },
  { table: 'hip-rotation-seated', name: 'Hip rotation, seated', what: 'measured' },
];

type Shared = Pick<RangeFigure, 'table' | 'unit' | 'population' | 'source' | 'how'>;

function figures(shared: Shared, rows: readonly Omit<RangeFigure, keyof Shared>[]): readonly RangeFigure[] {
  return rows.map((row) => ({ ...shared, ...row }));
}

/** Every published figure of range. Finger, thumb and toe rows join a movement at the knuckle joint only. */
// prettier-ignore
export const rangeOfMotionFigures: readonly RangeFigure[] = [
  ...figures({ table: 'va-38cfr', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'va-38cfr-spine', how: 'read' }, [
    { id: 'va-38cfr-cervical-spine-flexion', of: 'cervical spine flexion', movement: 'neck.flexion', value: 45 },
    { id: 'va-38cfr-cervical-spine-extension', of: 'cervical spine extension', movement: 'neck.extension', value: 45 },
    { id: 'va-38cfr-cervical-spine-lateral-flexion', of: 'cervical spine lateral flexion', movement: 'neck.lateral-flexion', value: 45 },
    { id: 'va-38cfr-cervical-spine-rotation', of: 'cervical spine rotation', movement: 'neck.rotation', value: 80 },
    { id: 'va-38cfr-thoracolumbar-spine-flexion', of: 'thoracolumbar spine flexion', movement: 'trunk.flexion', value: 90 },
    { id: 'va-38cfr-thoracolumbar-spine-extension', of: 'thoracolumbar spine extension', movement: 'trunk.extension', value: 30 },
    { id: 'va-38cfr-thoracolumbar-spine-lateral-flexion', of: 'thoracolumbar spine lateral flexion', movement: 'trunk.lateral-flexion', value: 30 },
    { id: 'va-38cfr-thoracolumbar-spine-rotation', of: 'thoracolumbar spine rotation', movement: 'trunk.rotation', value: 30 },
  ]),
  ...figures({ table: 'va-38cfr', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'va-38cfr-spine-combined', how: 'from memory' }, [
    { id: 'va-38cfr-cervical-spine-combined-range', of: 'cervical spine combined range', value: 340 },
    { id: 'va-38cfr-thoracolumbar-spine-combined-range', of: 'thoracolumbar spine combined range', value: 240 },
  ]),
  ...figures({ table: 'va-38cfr', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'va-38cfr-plates', how: 'read' }, [
    { id: 'va-38cfr-hip-flexion', of: 'hip flexion', movement: 'hip.flexion', value: 125 },
    { id: 'va-38cfr-hip-extension', of: 'hip extension', movement: 'hip.extension', value: 30 },
    { id: 'va-38cfr-hip-adduction', of: 'hip adduction', movement: 'hip.adduction', value: 25 },
    { id: 'va-38cfr-hip-abduction', of: 'hip abduction', movement: 'hip.abduction', value: 45 },
    { id: 'va-38cfr-hip-external-rotation', of: 'hip external rotation', movement: 'hip.external-rotation', value: 60 },
    { id: 'va-38cfr-hip-internal-rotation', of: 'hip internal rotation', movement: 'hip.internal-rotation', value: 40 },
    { id: 'va-38cfr-knee-flexion', of: 'knee flexion', movement: 'knee.flexion', value: 140 },
    { id: 'va-38cfr-knee-extension', of: 'knee extension', movement: 'knee.extension', value: 0 },
    { id: 'va-38cfr-ankle-dorsiflexion', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', value: 20 },
    { id: 'va-38cfr-ankle-plantar-flexion', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', value: 45 },
    { id: 'va-38cfr-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', value: 180 },
    { id: 'va-38cfr-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', value: 180 },
    { id: 'va-38cfr-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', value: 90 },
    { id: 'va-38cfr-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', value: 90 },
    { id: 'va-38cfr-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', value: 145 },
    { id: 'va-38cfr-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', value: 85 },
    { id: 'va-38cfr-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', value: 80 },
    { id: 'va-38cfr-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', value: 70 },
    { id: 'va-38cfr-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', value: 80 },
    { id: 'va-38cfr-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', value: 20 },
    { id: 'va-38cfr-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', value: 45 },
  ]),
  ...figures({ table: 'va-38cfr', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'va-38cfr-digits-jaw', how: 'from memory' }, [
    { id: 'va-38cfr-finger-MCP-flexion', of: 'finger MCP flexion', movement: 'fingers.flexion', value: 90 },
    { id: 'va-38cfr-finger-PIP-flexion', of: 'finger PIP flexion', value: 100 },
    { id: 'va-38cfr-finger-DIP-flexion', of: 'finger DIP flexion', low: 70, high: 80 },
  ]),
  ...figures({ table: 'va-38cfr', unit: 'mm', population: 'adults (handbook normal value; no age or sex split)', source: 'va-38cfr-digits-jaw', how: 'from memory' }, [
    { id: 'va-38cfr-temporomandibular-opening', of: 'temporomandibular opening', movement: 'jaw.depression', low: 35, high: 50, note: 'normal maximum unassisted interincisal opening' },
  ]),
  ...figures({ table: 'aaos', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'norkin-white-2016', how: 'read' }, [
    { id: 'aaos-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', value: 180 },
    { id: 'aaos-shoulder-extension', of: 'shoulder extension', movement: 'shoulder.extension', value: 60 },
    { id: 'aaos-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', value: 180 },
    { id: 'aaos-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', value: 70 },
    { id: 'aaos-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', value: 90 },
    { id: 'aaos-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', value: 150 },
    { id: 'aaos-elbow-extension', of: 'elbow extension', movement: 'elbow.extension', value: 0 },
    { id: 'aaos-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', value: 80 },
    { id: 'aaos-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', value: 80 },
    { id: 'aaos-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', value: 80 },
    { id: 'aaos-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', value: 70 },
    { id: 'aaos-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', value: 20 },
    { id: 'aaos-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', value: 30 },
  ]),
  ...figures({ table: 'ama', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'norkin-white-2016', how: 'read' }, [
    { id: 'ama-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', atLeast: 180, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-shoulder-extension', of: 'shoulder extension', movement: 'shoulder.extension', atLeast: 50, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', atLeast: 170, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', atLeast: 80, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', atLeast: 60, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', atLeast: 140, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-elbow-extension', of: 'elbow extension', movement: 'elbow.extension', atLeast: 0, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', atLeast: 80, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', atLeast: 80, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', atLeast: 60, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', atLeast: 60, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', atLeast: 20, note: 'AMA Guides give the least value rated as no impairment' },
    { id: 'ama-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', atLeast: 30, note: 'AMA Guides give the least value rated as no impairment' },
  ]),
  ...figures({ table: 'study-watanabe-0-2y', unit: 'deg', population: '0-2 years, n=45 (values are a range of means)', source: 'norkin-white-2016', how: 'read' }, [
    { id: 'study-watanabe-0-2y-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', low: 172, high: 180, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-shoulder-extension', of: 'shoulder extension', movement: 'shoulder.extension', low: 78, high: 89, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', low: 177, high: 187, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', low: 72, high: 90, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', low: 118, high: 134, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', low: 148, high: 158, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', low: 90, high: 96, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', low: 81, high: 93, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', low: 88, high: 96, ageMin: 0, ageMax: 2 },
    { id: 'study-watanabe-0-2y-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', low: 82, high: 89, ageMin: 0, ageMax: 2 },
  ]),
  ...figures({ table: 'study-boone-azen', unit: 'deg', population: '1-54 years, 109 males, active motion', source: 'norkin-white-2016', how: 'read' }, [
    { id: 'study-boone-azen-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 167, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-shoulder-extension', of: 'shoulder extension', movement: 'shoulder.extension', mean: 62, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', mean: 184, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', mean: 69, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', mean: 104, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', mean: 143, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-elbow-extension', of: 'elbow extension', movement: 'elbow.extension', mean: 1, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', mean: 76, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', mean: 82, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', mean: 76, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', mean: 75, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', mean: 22, ageMin: 1, ageMax: 54 },
    { id: 'study-boone-azen-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', mean: 36, ageMin: 1, ageMax: 54 },
  ]),
  ...figures({ table: 'study-greene-wolf', unit: 'deg', population: '18-55 years, 10 men and 10 women', source: 'norkin-white-2016', how: 'read' }, [
    { id: 'study-greene-wolf-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 156, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', mean: 168, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', mean: 49, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', mean: 84, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', mean: 145, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-elbow-extension', of: 'elbow extension', movement: 'elbow.extension', mean: 0, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', mean: 84, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', mean: 77, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', mean: 73, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', mean: 65, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', mean: 25, ageMin: 18, ageMax: 55 },
    { id: 'study-greene-wolf-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', mean: 39, ageMin: 18, ageMax: 55 },
  ]),
  ...figures({ table: 'study-walker', unit: 'deg', population: '65-85 years, 30 men and 30 women', source: 'norkin-white-2016', how: 'read' }, [
    { id: 'study-walker-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 165, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-shoulder-extension', of: 'shoulder extension', movement: 'shoulder.extension', mean: 44, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', mean: 165, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', mean: 62, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', mean: 81, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', mean: 143, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-elbow-extension', of: 'elbow extension', movement: 'elbow.extension', mean: 4, ageMin: 65, ageMax: 85, note: 'a lack of extension: 4 degrees short of straight' },
    { id: 'study-walker-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', mean: 71, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', mean: 74, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', mean: 64, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', mean: 63, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', mean: 19, ageMin: 65, ageMax: 85 },
    { id: 'study-walker-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', mean: 26, ageMin: 65, ageMax: 85 },
  ]),
  ...figures({ table: 'study-macedo-magee', unit: 'deg', population: '18-59 years, 90 women', source: 'norkin-white-2016', how: 'read' }, [
    { id: 'study-macedo-magee-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 188, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-shoulder-extension', of: 'shoulder extension', movement: 'shoulder.extension', mean: 70, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-shoulder-abduction', of: 'shoulder abduction', movement: 'shoulder.abduction', mean: 188, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', mean: 94, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', mean: 108, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', mean: 149, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-elbow-extension', of: 'elbow extension', movement: 'elbow.extension', mean: 2, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', mean: 92, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', mean: 96, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', mean: 93, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', mean: 86, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', mean: 18, ageMin: 18, ageMax: 59 },
    { id: 'study-macedo-magee-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', mean: 41, ageMin: 18, ageMax: 59 },
  ]),
  ...figures({ table: 'aaos', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'aaos-1965', how: 'read' }, [
    { id: 'aaos-thumb-MCP-flexion', of: 'thumb MCP flexion', movement: 'thumb.flexion', value: 50 },
    { id: 'aaos-thumb-MCP-extension', of: 'thumb MCP extension', movement: 'thumb.extension', value: 0 },
    { id: 'aaos-thumb-CMC-flexion', of: 'thumb CMC flexion', value: 15 },
    { id: 'aaos-thumb-CMC-abduction', of: 'thumb CMC abduction', value: 70 },
    { id: 'aaos-thumb-IP-flexion', of: 'thumb IP flexion', value: 80 },
    { id: 'aaos-thumb-IP-extension', of: 'thumb IP extension', value: 20 },
    { id: 'aaos-finger-MCP-flexion', of: 'finger MCP flexion', movement: 'fingers.flexion', value: 90 },
    { id: 'aaos-finger-MCP-extension', of: 'finger MCP extension', movement: 'fingers.extension', value: 45 },
    { id: 'aaos-finger-PIP-flexion', of: 'finger PIP flexion', value: 100 },
    { id: 'aaos-finger-PIP-extension', of: 'finger PIP extension', value: 0 },
    { id: 'aaos-finger-DIP-flexion', of: 'finger DIP flexion', value: 90 },
    { id: 'aaos-finger-DIP-extension', of: 'finger DIP extension', value: 0, note: 'a second source gives 10 deg of hyperextension' },
    { id: 'aaos-thumb-CMC-extension', of: 'thumb CMC extension', low: 20, high: 80, note: 'printed as a range; AMA 35' },
  ]),
  ...figures({ table: 'aaos', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'aaos-knee', how: 'read' }, [
    { id: 'aaos-knee-flexion', of: 'knee flexion', movement: 'knee.flexion', value: 135 },
  ]),
  ...figures({ table: 'aaos', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'greene-heckman-1994', how: 'from memory' }, [
    { id: 'aaos-cervical-spine-flexion', of: 'cervical spine flexion', movement: 'neck.flexion', value: 45 },
    { id: 'aaos-cervical-spine-extension', of: 'cervical spine extension', movement: 'neck.extension', value: 45 },
    { id: 'aaos-cervical-spine-lateral-flexion', of: 'cervical spine lateral flexion', movement: 'neck.lateral-flexion', value: 45 },
    { id: 'aaos-cervical-spine-rotation', of: 'cervical spine rotation', movement: 'neck.rotation', value: 60 },
    { id: 'aaos-thoracolumbar-spine-flexion', of: 'thoracolumbar spine flexion', movement: 'trunk.flexion', value: 80 },
    { id: 'aaos-thoracolumbar-spine-lateral-flexion', of: 'thoracolumbar spine lateral flexion', movement: 'trunk.lateral-flexion', value: 35 },
    { id: 'aaos-thoracolumbar-spine-rotation', of: 'thoracolumbar spine rotation', movement: 'trunk.rotation', value: 45 },
    { id: 'aaos-shoulder-adduction', of: 'shoulder adduction', movement: 'shoulder.adduction', value: 75 },
    { id: 'aaos-knee-extension', of: 'knee extension', movement: 'knee.extension', value: 0 },
    { id: 'aaos-ankle-dorsiflexion', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', value: 20 },
    { id: 'aaos-ankle-plantar-flexion', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', value: 50 },
    { id: 'aaos-subtalar-inversion', of: 'subtalar inversion', movement: 'foot.inversion', value: 35 },
    { id: 'aaos-subtalar-eversion', of: 'subtalar eversion', movement: 'foot.eversion', value: 15 },
    { id: 'aaos-great-toe-MTP-flexion', of: 'great toe MTP flexion', movement: 'toes.flexion', value: 45 },
    { id: 'aaos-great-toe-MTP-extension', of: 'great toe MTP extension', movement: 'toes.extension', value: 70 },
    { id: 'aaos-great-toe-IP-flexion', of: 'great toe IP flexion', value: 90 },
    { id: 'aaos-lesser-toe-MTP-flexion', of: 'lesser toe MTP flexion', movement: 'toes.flexion', value: 40 },
    { id: 'aaos-lesser-toe-MTP-extension', of: 'lesser toe MTP extension', movement: 'toes.extension', value: 40 },
    { id: 'aaos-lesser-toe-PIP-flexion', of: 'lesser toe PIP flexion', value: 35 },
    { id: 'aaos-lesser-toe-DIP-flexion', of: 'lesser toe DIP flexion', value: 60 },
    { id: 'aaos-thoracolumbar-spine-extension', of: 'thoracolumbar spine extension', movement: 'trunk.extension', low: 20, high: 30 },
  ]),
  ...figures({ table: 'aaos', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'aaos-1965-hip', how: 'read' }, [
    { id: 'aaos-hip-flexion', of: 'hip flexion', movement: 'hip.flexion', value: 120 },
    { id: 'aaos-hip-extension', of: 'hip extension', movement: 'hip.extension', value: 30 },
    { id: 'aaos-hip-abduction', of: 'hip abduction', movement: 'hip.abduction', value: 45 },
    { id: 'aaos-hip-adduction', of: 'hip adduction', movement: 'hip.adduction', value: 30 },
    { id: 'aaos-hip-internal-rotation', of: 'hip internal rotation', movement: 'hip.internal-rotation', value: 45 },
    { id: 'aaos-hip-external-rotation', of: 'hip external rotation', movement: 'hip.external-rotation', value: 45 },
  ]),
  ...figures({ table: 'aaos-1994-mean', unit: 'deg', population: 'AAOS 1994 table value, mean and SD', source: 'kosmahl-1999', how: 'read' }, [
    { id: 'aaos-1994-mean-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 167, sd: 4.7 },
    { id: 'aaos-1994-mean-hip-adduction', of: 'hip adduction', movement: 'hip.adduction', mean: 27, sd: 3.6 },
    { id: 'aaos-1994-mean-hip-flexion', of: 'hip flexion', movement: 'hip.flexion', mean: 121, sd: 6.4 },
    { id: 'aaos-1994-mean-hip-extension', of: 'hip extension', movement: 'hip.extension', mean: 12, sd: 5.4 },
    { id: 'aaos-1994-mean-hip-abduction', of: 'hip abduction', movement: 'hip.abduction', mean: 41, sd: 6 },
    { id: 'aaos-1994-mean-ankle-dorsiflexion', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 13, sd: 4.4 },
    { id: 'aaos-1994-mean-subtalar-eversion', of: 'subtalar eversion', movement: 'foot.eversion', mean: 21, sd: 5 },
  ]),
  ...figures({ table: 'ama-1990s', unit: 'deg', population: 'adults (handbook normal value; no age or sex split)', source: 'kosmahl-1999', how: 'read' }, [
    { id: 'ama-1990s-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', value: 150 },
    { id: 'ama-1990s-hip-adduction', of: 'hip adduction', movement: 'hip.adduction', value: 20 },
    { id: 'ama-1990s-hip-flexion', of: 'hip flexion', movement: 'hip.flexion', value: 100 },
    { id: 'ama-1990s-hip-extension', of: 'hip extension', movement: 'hip.extension', value: 30 },
    { id: 'ama-1990s-hip-abduction', of: 'hip abduction', movement: 'hip.abduction', value: 40 },
    { id: 'ama-1990s-ankle-dorsiflexion', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', value: 20 },
    { id: 'ama-1990s-cervical-spine-extension', of: 'cervical spine extension', movement: 'neck.extension', value: 75 },
    { id: 'ama-1990s-thoracolumbar-spine-rotation', of: 'thoracolumbar spine rotation', movement: 'trunk.rotation', value: 45 },
  ]),
  ...figures({ table: 'boone-azen-sd', unit: 'deg', population: '109 healthy males aged 18 months to 54 years, active motion', source: 'kosmahl-1999', how: 'read' }, [
    { id: 'boone-azen-sd-shoulder-flexion', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 166, sd: 4.7, ageMin: 1, ageMax: 54 },
    { id: 'boone-azen-sd-hip-adduction', of: 'hip adduction', movement: 'hip.adduction', mean: 26.9, sd: 4.1, ageMin: 1, ageMax: 54 },
    { id: 'boone-azen-sd-hip-flexion', of: 'hip flexion', movement: 'hip.flexion', mean: 122.3, sd: 6.1, ageMin: 1, ageMax: 54 },
    { id: 'boone-azen-sd-hip-extension', of: 'hip extension', movement: 'hip.extension', mean: 9.8, sd: 6.8, ageMin: 1, ageMax: 54 },
    { id: 'boone-azen-sd-ankle-dorsiflexion', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 12.6, sd: 4.4, ageMin: 1, ageMax: 54 },
  ]),
  ...figures({ table: 'aaos-1994-mean', unit: 'deg', population: 'age 20-29 years', source: 'kosmahl-1999', how: 'read' }, [
    { id: 'aaos-1994-mean-cervical-spine-extension-any-20', of: 'cervical spine extension', movement: 'neck.extension', mean: 75.5, plusMinus: 8.5, ageMin: 20, ageMax: 29 },
  ]),
  ...figures({ table: 'aaos-1994-mean', unit: 'deg', population: 'age 30-49 years', source: 'kosmahl-1999', how: 'read' }, [
    { id: 'aaos-1994-mean-cervical-spine-extension-any-30', of: 'cervical spine extension', movement: 'neck.extension', mean: 70.5, plusMinus: 17.5, ageMin: 30, ageMax: 49 },
  ]),
  ...figures({ table: 'aaos-1994-mean', unit: 'deg', population: 'age 50 and over years', source: 'kosmahl-1999', how: 'read' }, [
    { id: 'aaos-1994-mean-cervical-spine-extension-any-50', of: 'cervical spine extension', movement: 'neck.extension', mean: 64.5, plusMinus: 7, ageMin: 50 },
  ]),
  ...figures({ table: 'eaton-hand', unit: 'deg', population: 'adults, typical', source: 'eaton', how: 'read' }, [
    { id: 'eaton-hand-elbow-extension', of: 'elbow extension', movement: 'elbow.extension', value: 0 },
    { id: 'eaton-hand-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', value: 145 },
    { id: 'eaton-hand-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', value: 70 },
    { id: 'eaton-hand-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', value: 85 },
    { id: 'eaton-hand-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', value: 70 },
    { id: 'eaton-hand-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', value: 75 },
    { id: 'eaton-hand-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', value: 20 },
    { id: 'eaton-hand-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', value: 35 },
    { id: 'eaton-hand-thumb-CMC-palmar-abduction', of: 'thumb CMC palmar abduction', value: 45 },
    { id: 'eaton-hand-thumb-CMC-radial-abduction', of: 'thumb CMC radial abduction', value: 60 },
    { id: 'eaton-hand-thumb-IP-hyperextension', of: 'thumb IP hyperextension', value: 15 },
    { id: 'eaton-hand-thumb-IP-flexion', of: 'thumb IP flexion', value: 80 },
    { id: 'eaton-hand-thumb-MCP-hyperextension', of: 'thumb MCP hyperextension', movement: 'thumb.extension', value: 10 },
    { id: 'eaton-hand-thumb-MCP-flexion', of: 'thumb MCP flexion', movement: 'thumb.flexion', value: 55 },
    { id: 'eaton-hand-finger-DIP-extension', of: 'finger DIP extension', value: 0 },
    { id: 'eaton-hand-finger-DIP-flexion', of: 'finger DIP flexion', value: 80 },
    { id: 'eaton-hand-finger-PIP-extension', of: 'finger PIP extension', value: 0 },
    { id: 'eaton-hand-finger-PIP-flexion', of: 'finger PIP flexion', value: 100 },
    { id: 'eaton-hand-finger-MCP-flexion', of: 'finger MCP flexion', movement: 'fingers.flexion', value: 90 },
    { id: 'eaton-hand-finger-MCP-hyperextension', of: 'finger MCP hyperextension', movement: 'fingers.extension', low: 0, high: 45 },
  ]),
  ...figures({ table: 'merck-manual', unit: 'deg', population: 'all ages (the table says age-specific ranges have not been established)', source: 'merck-manual', how: 'read' }, [
    { id: 'merck-manual-hip-flexion', of: 'hip flexion', movement: 'hip.flexion', value: 125 },
    { id: 'merck-manual-hip-hyperextension', of: 'hip hyperextension', movement: 'hip.extension', value: 15 },
    { id: 'merck-manual-hip-abduction', of: 'hip abduction', movement: 'hip.abduction', value: 45 },
    { id: 'merck-manual-hip-adduction', of: 'hip adduction', movement: 'hip.adduction', value: 45 },
    { id: 'merck-manual-hip-external-rotation', of: 'hip external rotation', movement: 'hip.external-rotation', value: 45 },
    { id: 'merck-manual-hip-internal-rotation', of: 'hip internal rotation', movement: 'hip.internal-rotation', value: 45 },
    { id: 'merck-manual-knee-flexion', of: 'knee flexion', movement: 'knee.flexion', value: 130 },
    { id: 'merck-manual-ankle-plantar-flexion', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', value: 50 },
    { id: 'merck-manual-ankle-dorsiflexion', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', value: 20 },
    { id: 'merck-manual-foot-inversion', of: 'foot inversion', movement: 'foot.inversion', value: 35 },
    { id: 'merck-manual-foot-eversion', of: 'foot eversion', movement: 'foot.eversion', value: 25 },
    { id: 'merck-manual-toe-MTP-flexion', of: 'toe MTP flexion', movement: 'toes.flexion', value: 30 },
    { id: 'merck-manual-toe-MTP-extension', of: 'toe MTP extension', movement: 'toes.extension', value: 80 },
    { id: 'merck-manual-toe-IP-flexion', of: 'toe IP flexion', value: 50 },
    { id: 'merck-manual-shoulder-extension', of: 'shoulder extension', movement: 'shoulder.extension', value: 50, note: 'glenohumeral flexion and abduction in this table stop at 90 deg by definition and are left out' },
    { id: 'merck-manual-shoulder-external-rotation', of: 'shoulder external rotation', movement: 'shoulder.external-rotation', value: 90 },
    { id: 'merck-manual-shoulder-internal-rotation', of: 'shoulder internal rotation', movement: 'shoulder.internal-rotation', value: 90 },
    { id: 'merck-manual-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', value: 160 },
    { id: 'merck-manual-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', value: 90 },
    { id: 'merck-manual-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', value: 90 },
    { id: 'merck-manual-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', value: 90 },
    { id: 'merck-manual-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', value: 70 },
    { id: 'merck-manual-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', value: 25 },
    { id: 'merck-manual-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', value: 65 },
    { id: 'merck-manual-finger-MCP-abduction', of: 'finger MCP abduction', movement: 'fingers.abduction', value: 25 },
    { id: 'merck-manual-finger-MCP-adduction', of: 'finger MCP adduction', movement: 'fingers.adduction', value: 20 },
    { id: 'merck-manual-finger-MCP-flexion', of: 'finger MCP flexion', movement: 'fingers.flexion', value: 90 },
    { id: 'merck-manual-finger-MCP-extension', of: 'finger MCP extension', movement: 'fingers.extension', value: 30 },
    { id: 'merck-manual-finger-PIP-flexion', of: 'finger PIP flexion', value: 120 },
    { id: 'merck-manual-finger-DIP-flexion', of: 'finger DIP flexion', value: 80 },
    { id: 'merck-manual-thumb-MCP-abduction', of: 'thumb MCP abduction', movement: 'thumb.abduction', value: 50 },
    { id: 'merck-manual-thumb-MCP-adduction', of: 'thumb MCP adduction', movement: 'thumb.adduction', value: 40 },
    { id: 'merck-manual-thumb-MCP-flexion', of: 'thumb MCP flexion', movement: 'thumb.flexion', value: 70 },
    { id: 'merck-manual-thumb-IP-flexion', of: 'thumb IP flexion', value: 90 },
  ]),
  ...figures({ table: 'textbook-ranges', unit: 'deg', population: 'adults', source: 'rom-diarthrodial-appendix', how: 'read' }, [
    { id: 'textbook-ranges-glenohumeral-flexion', of: 'glenohumeral flexion', low: 90, high: 100 },
    { id: 'textbook-ranges-glenohumeral-extension', of: 'glenohumeral extension', low: 40, high: 60 },
    { id: 'textbook-ranges-glenohumeral-abduction', of: 'glenohumeral abduction', low: 90, high: 95 },
    { id: 'textbook-ranges-glenohumeral-internal-rotation', of: 'glenohumeral internal rotation', low: 70, high: 90 },
    { id: 'textbook-ranges-glenohumeral-external-rotation', of: 'glenohumeral external rotation', low: 70, high: 90 },
    { id: 'textbook-ranges-elbow-flexion', of: 'elbow flexion', movement: 'elbow.flexion', low: 145, high: 150 },
    { id: 'textbook-ranges-forearm-supination', of: 'forearm supination', movement: 'forearm.supination', low: 80, high: 90 },
    { id: 'textbook-ranges-forearm-pronation', of: 'forearm pronation', movement: 'forearm.pronation', low: 70, high: 90 },
    { id: 'textbook-ranges-wrist-flexion', of: 'wrist flexion', movement: 'wrist.flexion', low: 70, high: 90 },
    { id: 'textbook-ranges-wrist-extension', of: 'wrist extension', movement: 'wrist.extension', low: 65, high: 85 },
    { id: 'textbook-ranges-wrist-radial-deviation', of: 'wrist radial deviation', movement: 'wrist.radial-deviation', low: 15, high: 25 },
    { id: 'textbook-ranges-wrist-ulnar-deviation', of: 'wrist ulnar deviation', movement: 'wrist.ulnar-deviation', low: 25, high: 40 },
    { id: 'textbook-ranges-thumb-CMC-flexion', of: 'thumb CMC flexion', low: 15, high: 45 },
    { id: 'textbook-ranges-thumb-CMC-extension', of: 'thumb CMC extension', low: 0, high: 20 },
    { id: 'textbook-ranges-thumb-CMC-abduction', of: 'thumb CMC abduction', low: 50, high: 70 },
    { id: 'textbook-ranges-thumb-MCP-flexion', of: 'thumb MCP flexion', movement: 'thumb.flexion', low: 40, high: 90 },
    { id: 'textbook-ranges-thumb-IP-flexion', of: 'thumb IP flexion', low: 80, high: 90 },
    { id: 'textbook-ranges-finger-MCP-extension', of: 'finger MCP extension', movement: 'fingers.extension', low: 0, high: 40 },
    { id: 'textbook-ranges-finger-MCP-flexion', of: 'finger MCP flexion', movement: 'fingers.flexion', low: 85, high: 100 },
    { id: 'textbook-ranges-finger-MCP-abduction', of: 'finger MCP abduction', movement: 'fingers.abduction', low: 10, high: 40 },
    { id: 'textbook-ranges-finger-PIP-flexion', of: 'finger PIP flexion', low: 90, high: 120 },
  ]),
  ...figures({ table: 'tmj', unit: 'mm', population: '140 dental students aged 21-42 (mean 27.4)', source: 'zawawi-2003', how: 'read' }, [
    { id: 'tmj-temporomandibular-opening', of: 'temporomandibular opening', movement: 'jaw.depression', mean: 48.8 },
  ]),
  ...figures({ table: 'tmj-patients', unit: 'mm', population: '500 TMD patients, unassisted', source: 'basel-tmd', how: 'read' }, [
    { id: 'tmj-patients-temporomandibular-opening', of: 'temporomandibular opening', movement: 'jaw.depression', mean: 49.3, sd: 9.1 },
  ]),
  ...figures({ table: 'tmj-patients', unit: 'mm', population: '500 TMD patients', source: 'basel-tmd', how: 'read' }, [
    { id: 'tmj-patients-temporomandibular-protrusion', of: 'temporomandibular protrusion', movement: 'jaw.protrusion', mean: 8.8, sd: 2.3 },
    { id: 'tmj-patients-temporomandibular-lateral-movement-right', of: 'temporomandibular lateral movement right', movement: 'jaw.lateral', mean: 9.4, sd: 2.5 },
    { id: 'tmj-patients-temporomandibular-lateral-movement-left', of: 'temporomandibular lateral movement left', movement: 'jaw.lateral', mean: 11.8, sd: 3.1 },
  ]),
  ...figures({ table: 'tmj-threshold', unit: 'mm', population: 'proposed limit for impaired function', source: 'basel-tmd', how: 'read' }, [
    { id: 'tmj-threshold-temporomandibular-opening', of: 'temporomandibular opening', movement: 'jaw.depression', atLeast: 30, note: 'below 30 mm impaired' },
    { id: 'tmj-threshold-temporomandibular-lateral-movement', of: 'temporomandibular lateral movement', movement: 'jaw.lateral', atLeast: 5 },
    { id: 'tmj-threshold-temporomandibular-protrusion', of: 'temporomandibular protrusion', movement: 'jaw.protrusion', atLeast: 5 },
  ]),
  ...figures({ table: 'tmj', unit: 'mm', population: 'adults', source: 'teaching-interincisal', how: 'read' }, [
    { id: 'tmj-temporomandibular-opening-teaching-range', of: 'temporomandibular opening teaching range', movement: 'jaw.depression', low: 40, high: 60 },
  ]),
  ...figures({ table: 'hip-rotation-supine', unit: 'deg', population: '120 adults 20-60 years without hip, spine or leg disorder, supine', source: 'kouyoumdjian-2012', how: 'read' }, [
    { id: 'hip-rotation-supine-hip-external-rotation', of: 'hip external rotation', movement: 'hip.external-rotation', mean: 38.5, ageMin: 20, ageMax: 60 },
    { id: 'hip-rotation-supine-hip-internal-rotation', of: 'hip internal rotation', movement: 'hip.internal-rotation', mean: 29.6, ageMin: 20, ageMax: 60 },
  ]),
  ...figures({ table: 'hip-rotation-prone', unit: 'deg', population: '120 adults 20-60 years without hip, spine or leg disorder, prone', source: 'kouyoumdjian-2012', how: 'read' }, [
    { id: 'hip-rotation-prone-hip-external-rotation', of: 'hip external rotation', movement: 'hip.external-rotation', mean: 41.8, ageMin: 20, ageMax: 60 },
    { id: 'hip-rotation-prone-hip-internal-rotation', of: 'hip internal rotation', movement: 'hip.internal-rotation', mean: 35.2, ageMin: 20, ageMax: 60 },
  ]),
  ...figures({ table: 'hip-rotation-seated', unit: 'deg', population: '120 adults 20-60 years without hip, spine or leg disorder, seated', source: 'kouyoumdjian-2012', how: 'read' }, [
    { id: 'hip-rotation-seated-hip-internal-rotation', of: 'hip internal rotation', movement: 'hip.internal-rotation', mean: 37.9, ageMin: 20, ageMax: 60 },
  ]),
  ...figures({ table: 'cdc-soucie-2011', unit: 'deg', population: 'healthy people, USA; passive motion, universal goniometer, both sides', source: 'cdc-soucie-2011', how: 'read' }, [
    { id: 'cdc-soucie-2011-hip-extension-female-2', of: 'hip extension', movement: 'hip.extension', mean: 26.2, ci95: [23.9, 28.5], sex: 'female', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-hip-extension-male-2', of: 'hip extension', movement: 'hip.extension', mean: 28.3, ci95: [27.2, 29.4], sex: 'male', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-hip-flexion-female-2', of: 'hip flexion', movement: 'hip.flexion', mean: 140.8, ci95: [139.2, 142.4], sex: 'female', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-hip-flexion-male-2', of: 'hip flexion', movement: 'hip.flexion', mean: 131.1, ci95: [129.4, 132.8], sex: 'male', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-hip-flexion-female-45', of: 'hip flexion', movement: 'hip.flexion', mean: 130.8, ci95: [129.2, 132.4], sex: 'female', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-hip-flexion-male-45', of: 'hip flexion', movement: 'hip.flexion', mean: 127.2, ci95: [125.7, 128.7], sex: 'male', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-knee-flexion-female-2', of: 'knee flexion', movement: 'knee.flexion', mean: 152.6, ci95: [151.2, 154], sex: 'female', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-knee-flexion-male-2', of: 'knee flexion', movement: 'knee.flexion', mean: 147.8, ci95: [146.6, 149], sex: 'male', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-knee-flexion-female-20', of: 'knee flexion', movement: 'knee.flexion', mean: 141.9, ci95: [140.9, 142.9], sex: 'female', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-knee-flexion-male-20', of: 'knee flexion', movement: 'knee.flexion', mean: 137.7, ci95: [136.5, 138.9], sex: 'male', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-knee-flexion-female-45', of: 'knee flexion', movement: 'knee.flexion', mean: 137.8, ci95: [136.5, 139.1], sex: 'female', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-knee-flexion-male-45', of: 'knee flexion', movement: 'knee.flexion', mean: 132.9, ci95: [131.6, 134.2], sex: 'male', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-knee-extension-female-2', of: 'knee extension', movement: 'knee.extension', mean: 5.4, ci95: [3.9, 6.9], sex: 'female', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-knee-extension-male-2', of: 'knee extension', movement: 'knee.extension', mean: 1.6, ci95: [0.9, 2.3], sex: 'male', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-female-2', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 24.8, ci95: [22.5, 27.1], sex: 'female', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-male-2', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 22.8, ci95: [21.3, 24.3], sex: 'male', ageMin: 2, ageMax: 8, readParts: ['mean', 'ci95Low'] },
    { id: 'cdc-soucie-2011-shoulder-flexion-female-20', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 172, ci95: [170.9, 173.1], sex: 'female', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-shoulder-flexion-male-20', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 168.8, ci95: [167.3, 170.3], sex: 'male', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-shoulder-flexion-female-45', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 168.1, ci95: [166.7, 169.5], sex: 'female', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-shoulder-flexion-male-45', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 164, ci95: [162.3, 165.7], sex: 'male', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-elbow-flexion-female-20', of: 'elbow flexion', movement: 'elbow.flexion', mean: 150, ci95: [149.1, 150.9], sex: 'female', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-elbow-flexion-male-20', of: 'elbow flexion', movement: 'elbow.flexion', mean: 144.6, ci95: [143.6, 145.6], sex: 'male', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-elbow-flexion-female-45', of: 'elbow flexion', movement: 'elbow.flexion', mean: 148.3, ci95: [147.3, 149.3], sex: 'female', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-elbow-flexion-male-45', of: 'elbow flexion', movement: 'elbow.flexion', mean: 143.5, ci95: [142.3, 144.7], sex: 'male', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-elbow-extension-female-45', of: 'elbow extension', movement: 'elbow.extension', mean: 3.6, ci95: [2.6, 4.6], sex: 'female', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-elbow-extension-male-45', of: 'elbow extension', movement: 'elbow.extension', mean: -0.7, ci95: [-1.5, 0.1], sex: 'male', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-forearm-pronation-female-20', of: 'forearm pronation', movement: 'forearm.pronation', mean: 82, ci95: [81, 83], sex: 'female', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-forearm-pronation-male-20', of: 'forearm pronation', movement: 'forearm.pronation', mean: 76.9, ci95: [75.6, 78.2], sex: 'male', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-forearm-pronation-female-45', of: 'forearm pronation', movement: 'forearm.pronation', mean: 80.8, ci95: [79.7, 81.9], sex: 'female', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-forearm-pronation-male-45', of: 'forearm pronation', movement: 'forearm.pronation', mean: 77.7, ci95: [76.5, 78.9], sex: 'male', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-forearm-supination-female-20', of: 'forearm supination', movement: 'forearm.supination', mean: 90.6, ci95: [89.2, 92], sex: 'female', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-forearm-supination-male-20', of: 'forearm supination', movement: 'forearm.supination', mean: 85, ci95: [83.8, 86.2], sex: 'male', ageMin: 20, ageMax: 44, readParts: ['mean'] },
    { id: 'cdc-soucie-2011-forearm-supination-female-45', of: 'forearm supination', movement: 'forearm.supination', mean: 87.2, ci95: [86, 88.4], sex: 'female', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
    { id: 'cdc-soucie-2011-forearm-supination-male-45', of: 'forearm supination', movement: 'forearm.supination', mean: 82.4, ci95: [80.9, 83.9], sex: 'male', ageMin: 45, ageMax: 69, readParts: ['mean', 'ci95'] },
  ]),
  ...figures({ table: 'cdc-soucie-2011', unit: 'deg', population: 'healthy people, USA; passive motion, universal goniometer, both sides', source: 'cdc-soucie-2011', how: 'from memory' }, [
    { id: 'cdc-soucie-2011-hip-extension-female-9', of: 'hip extension', movement: 'hip.extension', mean: 20.5, ci95: [18.6, 22.4], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-hip-extension-male-9', of: 'hip extension', movement: 'hip.extension', mean: 18.2, ci95: [16.6, 19.8], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-hip-extension-female-20', of: 'hip extension', movement: 'hip.extension', mean: 18.1, ci95: [17, 19.2], sex: 'female', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-hip-extension-male-20', of: 'hip extension', movement: 'hip.extension', mean: 17.4, ci95: [16.3, 18.5], sex: 'male', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-hip-extension-female-45', of: 'hip extension', movement: 'hip.extension', mean: 16.7, ci95: [15.5, 17.9], sex: 'female', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-hip-extension-male-45', of: 'hip extension', movement: 'hip.extension', mean: 13.5, ci95: [12.5, 14.5], sex: 'male', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-hip-flexion-female-9', of: 'hip flexion', movement: 'hip.flexion', mean: 134.9, ci95: [133, 136.8], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-hip-flexion-male-9', of: 'hip flexion', movement: 'hip.flexion', mean: 135.2, ci95: [133, 137.4], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-hip-flexion-female-20', of: 'hip flexion', movement: 'hip.flexion', mean: 133.8, ci95: [132.5, 135.1], sex: 'female', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-hip-flexion-male-20', of: 'hip flexion', movement: 'hip.flexion', mean: 130.4, ci95: [129, 131.8], sex: 'male', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-knee-flexion-female-9', of: 'knee flexion', movement: 'knee.flexion', mean: 142.3, ci95: [140.8, 143.8], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-knee-flexion-male-9', of: 'knee flexion', movement: 'knee.flexion', mean: 142.2, ci95: [140.4, 144], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-knee-extension-female-9', of: 'knee extension', movement: 'knee.extension', mean: 2.4, ci95: [1.5, 3.3], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-knee-extension-male-9', of: 'knee extension', movement: 'knee.extension', mean: 1.8, ci95: [0.9, 2.7], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-knee-extension-female-20', of: 'knee extension', movement: 'knee.extension', mean: 1.6, ci95: [1.1, 2.1], sex: 'female', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-knee-extension-male-20', of: 'knee extension', movement: 'knee.extension', mean: 1, ci95: [0.6, 1.4], sex: 'male', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-knee-extension-female-45', of: 'knee extension', movement: 'knee.extension', mean: 1.2, ci95: [0.7, 1.7], sex: 'female', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-knee-extension-male-45', of: 'knee extension', movement: 'knee.extension', mean: 0.5, ci95: [0.1, 0.9], sex: 'male', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-female-9', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 17.3, ci95: [15.6, 19], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-male-9', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 16.3, ci95: [14.6, 18], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-female-20', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 13.8, ci95: [12.9, 14.7], sex: 'female', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-male-20', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 12.7, ci95: [11.6, 13.8], sex: 'male', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-female-45', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 11.6, ci95: [10.6, 12.6], sex: 'female', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-dorsiflexion-male-45', of: 'ankle dorsiflexion', movement: 'ankle.dorsiflexion', mean: 11.9, ci95: [10.9, 12.9], sex: 'male', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-female-2', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 67.1, ci95: [64.8, 69.4], sex: 'female', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-male-2', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 55.8, ci95: [54.4, 57.2], sex: 'male', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-female-9', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 57.3, ci95: [54.8, 59.8], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-male-9', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 52.8, ci95: [50.8, 54.8], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-female-20', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 62.1, ci95: [60.6, 63.6], sex: 'female', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-male-20', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 54.6, ci95: [53.2, 56], sex: 'male', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-female-45', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 56.5, ci95: [55, 58], sex: 'female', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-ankle-plantar-flexion-male-45', of: 'ankle plantar flexion', movement: 'ankle.plantar-flexion', mean: 49.4, ci95: [47.7, 51.1], sex: 'male', ageMin: 45, ageMax: 69, readParts: [] },
    { id: 'cdc-soucie-2011-shoulder-flexion-female-2', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 178.6, ci95: [176.9, 180.3], sex: 'female', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-shoulder-flexion-male-2', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 177.8, ci95: [176.7, 178.9], sex: 'male', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-shoulder-flexion-female-9', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 171.8, ci95: [169.8, 173.8], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-shoulder-flexion-male-9', of: 'shoulder flexion', movement: 'shoulder.flexion', mean: 170.9, ci95: [169.1, 172.7], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-flexion-female-2', of: 'elbow flexion', movement: 'elbow.flexion', mean: 152.9, ci95: [151.5, 154.3], sex: 'female', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-flexion-male-2', of: 'elbow flexion', movement: 'elbow.flexion', mean: 151.4, ci95: [150.8, 152], sex: 'male', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-flexion-female-9', of: 'elbow flexion', movement: 'elbow.flexion', mean: 149.7, ci95: [148.5, 150.9], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-flexion-male-9', of: 'elbow flexion', movement: 'elbow.flexion', mean: 148.3, ci95: [147.1, 149.5], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-extension-female-2', of: 'elbow extension', movement: 'elbow.extension', mean: 6.8, ci95: [5.2, 8.4], sex: 'female', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-extension-male-2', of: 'elbow extension', movement: 'elbow.extension', mean: 2.2, ci95: [0.9, 3.5], sex: 'male', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-extension-female-9', of: 'elbow extension', movement: 'elbow.extension', mean: 6.4, ci95: [4.7, 8.1], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-extension-male-9', of: 'elbow extension', movement: 'elbow.extension', mean: 5.3, ci95: [3.6, 7], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-extension-female-20', of: 'elbow extension', movement: 'elbow.extension', mean: 4.7, ci95: [3.9, 5.5], sex: 'female', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-elbow-extension-male-20', of: 'elbow extension', movement: 'elbow.extension', mean: 0.8, ci95: [0.1, 1.5], sex: 'male', ageMin: 20, ageMax: 44, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-pronation-female-2', of: 'forearm pronation', movement: 'forearm.pronation', mean: 84.6, ci95: [82.8, 86.4], sex: 'female', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-pronation-male-2', of: 'forearm pronation', movement: 'forearm.pronation', mean: 79.6, ci95: [78.8, 80.4], sex: 'male', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-pronation-female-9', of: 'forearm pronation', movement: 'forearm.pronation', mean: 81.2, ci95: [79.6, 82.8], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-pronation-male-9', of: 'forearm pronation', movement: 'forearm.pronation', mean: 79.8, ci95: [78.1, 81.5], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-supination-female-2', of: 'forearm supination', movement: 'forearm.supination', mean: 93.7, ci95: [91.4, 96], sex: 'female', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-supination-male-2', of: 'forearm supination', movement: 'forearm.supination', mean: 86.4, ci95: [85.3, 87.5], sex: 'male', ageMin: 2, ageMax: 8, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-supination-female-9', of: 'forearm supination', movement: 'forearm.supination', mean: 90, ci95: [88, 92], sex: 'female', ageMin: 9, ageMax: 19, readParts: [] },
    { id: 'cdc-soucie-2011-forearm-supination-male-9', of: 'forearm supination', movement: 'forearm.supination', mean: 87.8, ci95: [85.7, 89.9], sex: 'male', ageMin: 9, ageMax: 19, readParts: [] },
  ]),
];

/** A read figure with the name of its list. */
export interface ReferenceRange {
  readonly movement: string;
  /** In `unit`; for elbow and knee extension 0: straight. */
  readonly value: number;
  readonly unit: string;
  readonly table: string;
  /** What is to be shown beside the value. */
  readonly tableName: string;
  readonly population: string;
  readonly source: string;
}

/** Lists with one value for everyone, the one to prefer first. */
const singleValueTables = ['va-38cfr', 'aaos', 'merck-manual', 'eaton-hand'];

const references: ReadonlyMap<string, ReferenceRange> = new Map(
  singleValueTables
    .toReversed()
    .flatMap((table) => readFigures(rangeOfMotionFigures).filter((row) => row.table === table))
    .flatMap((row) => {
      const reference = referenceOf(row);
      return reference ? [[reference.movement, reference] as const] : [];
    }),
);

function referenceOf(row: RangeFigure): ReferenceRange | undefined {
  const { movement, value, unit, table, population, source } = row;
  if (movement === undefined || value === undefined || row.of.endsWith('hyperextension')) return undefined;
  if (value === 0 && !startsAtNought(movement)) return undefined;
  const tableName = rangeTables.find((one) => one.table === table)?.name ?? table;
  return { movement, value, unit, table, tableName, population, source };
}

/** "Extension 0" of a list says where straight is; only elbow and knee extension are told from there here. */
function startsAtNought(movement: string): boolean {
  const limits = findMovement(movement)?.limits;
  return limits !== undefined && 'lacks' in limits;
}

/**
 * The value that a movement is usually compared with, from the first list that has one that was read; undefined where
 * there is only a remembered one. For fingers, thumb and toes it is that of the knuckle joint, so no other joint of a
 * digit has one. It never makes a finding abnormal by itself: motion falls with age.
 */
export function referenceRange(movement: string, digitJoint?: string): ReferenceRange | undefined {
  const knuckle = digitJoint === undefined || digitJoint === 'mcp' || digitJoint === 'mtp';
  return knuckle ? references.get(movement) : undefined;
}
