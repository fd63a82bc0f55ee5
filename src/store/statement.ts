/** A statement with its values; a named one is prepared once for each connection. */
export interface Statement {
  readonly name?: string;
  readonly text: string;
  readonly values?: readonly unknown[];
}

/** The error's code, of PostgreSQL or of the system. */
export function codeOf(error: unknown): string | undefined {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : undefined;
}
