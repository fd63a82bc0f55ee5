import ucum from '@lhncbc/ucum-lhc';

/** Units in use are few; made-up ones must not fill the memory. */
const MAX_KEPT = 2000;

/** Remembers the answers about units, which take their time to parse. */
function remember(judge: (unit: string) => boolean): (unit: string) => boolean {
  const answers = new Map<string, boolean>();
  return (unit) => {
    const known = answers.get(unit);
    if (known !== undefined) return known;
    if (answers.size >= MAX_KEPT) answers.clear();
    const answer = judge(unit);
    answers.set(unit, answer);
    return answer;
  };
}

/**
 * Whether the text is a unit of UCUM as it stands, case and all (The Unified Code for Units of Measure, case sensitive
 * codes): `mm[Hg]`, `kgf`, `{score}`; not `mmHg`, and not `kg` with a space at its end.
 */
export const isUcumCode: (code: string) => boolean = remember((code) => {
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
