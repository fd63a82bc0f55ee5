import ucum from '@lhncbc/ucum-lhc';

/** Units in use are few and short; made-up ones must fill neither the memory nor the time. */
const MAX_KEPT = 2000;
const MAX_LENGTH = 500;

/** Remembers the answers about units, which take their time to parse; a text that is too long is none. */
function remember(judge: (unit: string) => boolean): (unit: string) => boolean {
  const answers = new Map<string, boolean>();
  return (unit) => {
    if (unit.length > MAX_LENGTH) return false;
    const known = answers.get(unit);
    if (known !== undefined) return known;
    if (answers.size >= MAX_KEPT) answers.clear();
    const answer = judge(unit);
    answers.set(unit, answer);
    return answer;
  };
}

/** Words that the parser takes for units it knows, and then stumbles over: names that every JavaScript object has. */
const PITFALLS: readonly string[] = Object.getOwnPropertyNames(Object.prototype);

/** Stands for a term in parentheses once that was looked at; no unit has a space. */
const PARENTHESES = ' ';
const ANNOTATION = String.raw`\{[!-z|~]*\}`;
const SYMBOL = String.raw`(?:[!#-'*,0-<>-Z\\^-z|~]|\[[!-Z\\^-z|~]+\])+`;
const COMPONENT = String.raw`(?:${SYMBOL}(?:[+-]?\d+)?(?:${ANNOTATION})?|${ANNOTATION}|${PARENTHESES}(?:${ANNOTATION})?)`;
const TERM = String.raw`/?${COMPONENT}(?:[./]${COMPONENT})*`;
const WHOLE = new RegExp(`^${TERM}$`);
const INNERMOST = new RegExp(String.raw`\(${TERM}\)`, 'g');

/**
 * Whether the text has the form of a unit (UCUM, 2, "Grammar of Units and Unit Terms"). The parser is asked only then, since
 * it prints what it stumbles over.
 */
function hasUnitForm(code: string): boolean {
  if ([PARENTHESES, ...PITFALLS].some((each) => code.includes(each))) return false;
  let flat = code;
  for (let outer = flat; ; flat = outer) {
    outer = flat.replaceAll(INNERMOST, PARENTHESES);
    if (outer === flat) return WHOLE.test(flat);
  }
}

/**
 * Whether the text is a unit of UCUM as it stands, case and all (The Unified Code for Units of Measure, case sensitive
 * codes): `mm[Hg]`, `kgf`, `{score}`; not `mmHg`, and not `kg` with a space at its end.
 */
export const isUcumCode: (code: string) => boolean = remember((code) => {
  if (!hasUnitForm(code)) return false;
  const { status, ucumCode } = ucum.UcumLhcUtils.getInstance().validateUnitString(code);
  return status === 'valid' && ucumCode === code;
});

/** Makes the question whether a unit is of the dimension of a UCUM unit: of time for `a`, of length for `m`. */
export function compileDimension(unit: string): (code: string) => boolean {
  return remember(
    (code) =>
      isUcumCode(code) && ucum.UcumLhcUtils.getInstance().convertUnitTo(code, 1, unit).status === 'succeeded',
  );
}
