/** The part in use of `@lhncbc/ucum-lhc`, which has no types of its own. */
declare module '@lhncbc/ucum-lhc' {
  interface UnitsOfMeasure {
    validateUnitString(unit: string): { readonly status: string; readonly ucumCode: string | null };
    convertUnitTo(from: string, value: number, to: string): { readonly status: string };
  }
  /** A CommonJS module: its exports are members of the default. */
  const ucum: { readonly UcumLhcUtils: { getInstance(): UnitsOfMeasure } };
  export default ucum;
}
