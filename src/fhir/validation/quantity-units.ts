import { isUcumCode } from './units.js';
import type { JsonObject, Walk } from './walk.js';

const UCUM = 'http://unitsofmeasure.org';

/**
 * What is often written for a UCUM code (common practice), in small letters, with the code that is meant: The Unified Code
 * for Units of Measure, tables of units, case sensitive codes.
 */
const MEANT: Readonly<Record<string, string>> = {
  '%age': '%',
  '°': 'deg',
  '°c': 'Cel',
  '°f': '[degF]',
  'beats/min': '{beats}/min',
  'beats/minute': '{beats}/min',
  bpm: '/min',
  'breaths/min': '{breaths}/min',
  c: 'Cel',
  celsius: 'Cel',
  cm2: 'cm2',
  cmh2o: 'cm[H2O]',
  cms: 'cm',
  days: 'd',
  deg: 'deg',
  degc: 'Cel',
  degf: '[degF]',
  degree: 'deg',
  degrees: 'deg',
  feet: '[ft_i]',
  foot: '[ft_i]',
  ft: '[ft_i]',
  gram: 'g',
  grams: 'g',
  hour: 'h',
  hours: 'h',
  hr: 'h',
  hrs: 'h',
  in: '[in_i]',
  inch: '[in_i]',
  inches: '[in_i]',
  iu: '[IU]',
  kg: 'kg',
  'kg-f': 'kgf',
  kgf: 'kgf',
  kgs: 'kg',
  kilogram: 'kg',
  kilograms: 'kg',
  kp: 'kgf',
  lb: '[lb_av]',
  lbf: '[lbf_av]',
  lbs: '[lb_av]',
  liter: 'L',
  litre: 'L',
  mcg: 'ug',
  minute: 'min',
  minutes: 'min',
  mins: 'min',
  mmhg: 'mm[Hg]',
  month: 'mo',
  months: 'mo',
  newton: 'N',
  newtons: 'N',
  nm: 'N.m',
  ounce: '[oz_av]',
  ounces: '[oz_av]',
  oz: '[oz_av]',
  percent: '%',
  points: '{points}',
  pound: '[lb_av]',
  pounds: '[lb_av]',
  psi: '[psi]',
  score: '{score}',
  sec: 's',
  second: 's',
  seconds: 's',
  secs: 's',
  week: 'wk',
  weeks: 'wk',
  year: 'a',
  years: 'a',
  yr: 'a',
  yrs: 'a',
};

/**
 * Holds the code of a Quantity against UCUM when that is its system (R4 datatypes, Quantity: "code: a computer processable
 * form of the unit in some unit representation system").
 */
export function checkUnit({ system, code }: JsonObject, walk: Walk): void {
  if (system !== UCUM || typeof code !== 'string' || isUcumCode(code)) return;
  const meant = meantBy(code);
  const hint = meant === undefined ? '' : ` Perhaps ${meant} is meant.`;
  walk.reportAt('code', {
    code: 'code-invalid',
    rule: 'ucum',
    diagnostics: `"${code.slice(0, 100)}" is no unit of UCUM.${hint}`,
    found: code,
    ...(meant === undefined ? {} : { allowed: meant }),
  });
}

function meantBy(code: string): string | undefined {
  const trimmed = code.trim();
  if (isUcumCode(trimmed)) return trimmed;
  const key = trimmed.toLowerCase();
  return Object.hasOwn(MEANT, key) ? MEANT[key] : undefined;
}
