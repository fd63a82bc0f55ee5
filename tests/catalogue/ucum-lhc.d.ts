/** The part of the UCUM library that the checks on units use; the package has no types of its own. */
declare module '@lhncbc/ucum-lhc' {
  interface UcumUtils {
    validateUnitString(unit: string): { readonly status: string; readonly ucumCode: string | null };
    convertUnitTo(
      from: string,
      value: number,
      to: string,
    ): { readonly status: string; readonly toVal: number | null };
  }
  export const UcumLhcUtils: { getInstance(): UcumUtils };
}
