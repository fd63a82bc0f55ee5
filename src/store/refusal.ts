/** Why the store refuses; each is for the http doors to put into words and a status. */
export type RefusalCode =
  /** The resource was never there. */
  | 'not-found'
  /** A create, or an update that must not meet one, found a resource of this id. */
  | 'id-taken'
  /** The present version is another than the one expected. */
  | 'version-conflict'
  /** One call writes the same resource twice. */
  | 'written-twice'
  /** The cursor of a search is not one of ours. */
  | 'bad-cursor'
  /** Another exam document was accepted under this client's id. */
  | 'client-id-taken'
  /** The draft under this client's id is another author's. */
  | 'draft-of-another';

/** A refusal with its particulars; the message names ids, never what a record holds. */
export class StoreRefusal extends Error {
  override readonly name = 'StoreRefusal';
  readonly code: RefusalCode;
  readonly type: string | undefined;
  readonly id: string | undefined;
  readonly expectedVersion: number | undefined;
  readonly presentVersion: number | undefined;

  constructor(code: RefusalCode, message: string, particulars: RefusalParticulars = {}) {
    super(message);
    this.code = code;
    this.type = particulars.type;
    this.id = particulars.id;
    this.expectedVersion = particulars.expectedVersion;
    this.presentVersion = particulars.presentVersion;
  }
}

export interface RefusalParticulars {
  readonly type?: string;
  readonly id?: string;
  readonly expectedVersion?: number;
  readonly presentVersion?: number;
}
