import { createHash } from 'node:crypto';
import { SERIES_COLUMNS } from './point.js';
import type { SeriesKey } from './point.js';
import type { Statement } from './statement.js';

/** A coded value, a reference, or the presence of a parameter, as the dictionary keeps it. */
export interface TokenKey {
  readonly kind: 'coded' | 'reference' | 'present';
  readonly parameter: string;
  /** System of a code, type of a reference, `url` of an address; empty without one. */
  readonly system: string;
  readonly code: string;
}

type Ask = <Row extends object>(statement: Statement) => Promise<readonly Row[]>;

/** Entries of one cache; beyond them the oldest are forgotten and asked for again. */
const CACHE_LIMIT = 200_000;

/** Bytes of a text that an index entry holds in any case; a longer one is kept by its digest. */
const LONGEST_TEXT = 400;

/**
 * Numbers for values that stand on very many rows. Entries are never changed or removed, so each number, once read,
 * may be kept in memory. They are written by statements of their own, outside the writer's transaction and in a fixed
 * order, so that writers neither wait for each other's transactions nor deadlock; an entry left by a transaction that
 * was rolled back does no harm.
 */
export class Dictionary {
  readonly #tokens: Numbering<TokenKey>;
  readonly #concepts: Numbering<readonly number[]>;
  readonly #series: Numbering<SeriesKey>;
  readonly #seriesByNumber = new Map<number, SeriesKey>();
  readonly #ask: Ask;

  constructor(ask: Ask) {
    this.#ask = ask;
    this.#tokens = new Numbering(textOfToken, (keys, make) => numberTokens(ask, keys, make));
    this.#concepts = new Numbering(
      (tokens) => tokens.join(','),
      (keys, make) => numberConcepts(ask, keys, make),
    );
    this.#series = new Numbering(textOfSeries, (keys, make) => numberSeries(ask, keys, make));
  }

  /** Numbers of the tokens in the order given, made where they are new. */
  internTokens(keys: readonly TokenKey[]): Promise<readonly number[]> {
    return this.#tokens.intern(keys);
  }

  /** Numbers of the tokens that exist. */
  async findTokens(keys: readonly TokenKey[]): Promise<readonly (number | undefined)[]> {
    return this.#tokens.find(keys);
  }

  /** Numbers of sets of tokens; each set ascending. */
  internConcepts(sets: readonly (readonly number[])[]): Promise<readonly number[]> {
    return this.#concepts.intern(sets);
  }

  internSeries(keys: readonly SeriesKey[]): Promise<readonly number[]> {
    return this.#series.intern(keys);
  }

  /** What the numbers of series stand for. */
  async readSeries(numbers: readonly number[]): Promise<ReadonlyMap<number, SeriesKey>> {
    const unread = numbers.filter((number) => !this.#seriesByNumber.has(number));
    if (unread.length > 0) {
      const text = 'select * from series where id = any($1::int[])';
      for (const row of await this.#ask<SeriesRow>({ name: 'series-of-numbers', text, values: [unread] })) {
        this.#seriesByNumber.set(row.id, seriesKeyOf(row));
      }
    }
    return new Map(
      numbers.flatMap((number) => {
        const key = this.#seriesByNumber.get(number);
        return key === undefined ? [] : [[number, key]];
      }),
    );
  }
}

interface SeriesRow extends Record<
  Exclude<keyof SeriesKey, 'item' | 'measure' | 'unit' | 'side'>,
  string | null
> {
  readonly id: number;
  readonly item: string;
  readonly measure: string;
  readonly unit: string;
  readonly side: 'left' | 'right' | null;
}

/** The key without the columns that are null. */
function seriesKeyOf(row: SeriesRow): SeriesKey {
  const { item, measure, unit } = row;
  const others = SERIES_COLUMNS.filter((column) => row[column] !== null).map((column) => [
    column,
    row[column],
  ]);
  return { item, measure, unit, ...(Object.fromEntries(others) as Partial<SeriesKey>) };
}

/** Reads the numbers of keys (by their place); `make` adds those that are missing first. */
type Numberer<Key> = (keys: readonly Key[], make: boolean) => Promise<ReadonlyMap<number, number>>;

class Numbering<Key> {
  readonly #textOf: (key: Key) => string;
  readonly #number: Numberer<Key>;
  readonly #known = new Map<string, number>();

  constructor(textOf: (key: Key) => string, number: Numberer<Key>) {
    this.#textOf = textOf;
    this.#number = number;
  }

  async intern(keys: readonly Key[]): Promise<readonly number[]> {
    const texts = keys.map(this.#textOf);
    const found = await this.#load(keys, texts, true);
    return texts.map((text) => {
      const number = found.get(text);
      if (number === undefined) throw new Error('a dictionary entry was not found after it was written');
      return number;
    });
  }

  async find(keys: readonly Key[]): Promise<readonly (number | undefined)[]> {
    const texts = keys.map(this.#textOf);
    const found = await this.#load(keys, texts, false);
    return texts.map((text) => found.get(text));
  }

  /** The numbers asked for by text; those read now are also kept, within the limit. */
  async #load(
    keys: readonly Key[],
    texts: readonly string[],
    make: boolean,
  ): Promise<ReadonlyMap<string, number>> {
    const found = new Map<string, number>();
    const missing = new Map<string, Key>();
    keys.forEach((key, place) => {
      const text = texts[place] ?? '';
      const number = this.#known.get(text);
      if (number === undefined) missing.set(text, key);
      else found.set(text, number);
    });
    if (missing.size === 0) return found;
    const entries = [...missing].sort(([one], [other]) => (one < other ? -1 : 1));
    const numbers = await this.#number(
      entries.map(([, key]) => key),
      make,
    );
    entries.forEach(([text], place) => {
      const number = numbers.get(place);
      if (number === undefined) return;
      found.set(text, number);
      this.#remember(text, number);
    });
    return found;
  }

  #remember(text: string, number: number): void {
    if (this.#known.size >= CACHE_LIMIT) {
      for (const oldest of this.#known.keys()) {
        this.#known.delete(oldest);
        break;
      }
    }
    this.#known.set(text, number);
  }
}

async function numberTokens(
  ask: Ask,
  keys: readonly TokenKey[],
  make: boolean,
): Promise<ReadonlyMap<number, number>> {
  const columnsOf = (asked: readonly TokenKey[]): readonly (readonly string[])[] =>
    (['kind', 'parameter', 'system', 'code'] as const).map((field) => asked.map((key) => fit(key[field])));
  const read = async (): Promise<ReadonlyMap<number, number>> =>
    placesOf(await ask({ ...READ_TOKENS, values: columnsOf(keys) }));
  const found = await read();
  const missing = keys.filter((_, place) => !found.has(place));
  if (!make || missing.length === 0) return found;
  await ask({ ...MAKE_TOKENS, values: columnsOf(missing) });
  return read();
}

const ASKED_TOKENS =
  'unnest($1::text[], $2::text[], $3::text[], $4::text[]) with ordinality as asked (kind, parameter, system, code, place)';

/** Each key by the index, which a plan made while the table was empty would not do with a join. */
const READ_TOKENS: Statement = {
  name: 'read-tokens',
  text: `select place - 1 as place, id from ${ASKED_TOKENS} cross join lateral (
           select id from token where token.parameter = asked.parameter and token.code = asked.code
             and token.system = asked.system and token.kind = asked.kind limit 1) as found`,
};

const MAKE_TOKENS: Statement = {
  name: 'make-tokens',
  text: `insert into token (kind, parameter, system, code) select kind, parameter, system, code from ${ASKED_TOKENS}
         order by place on conflict do nothing`,
};

async function numberConcepts(
  ask: Ask,
  sets: readonly (readonly number[])[],
  make: boolean,
): Promise<ReadonlyMap<number, number>> {
  const values = [sets.map((set) => `{${set.join(',')}}`)];
  const read = async (): Promise<ReadonlyMap<number, number>> =>
    placesOf(await ask({ ...READ_CONCEPTS, values }));
  const found = await read();
  if (!make || found.size === sets.length) return found;
  await ask({ ...MAKE_CONCEPTS, values });
  return read();
}

/** Sets of unlike length make no array of arrays in PostgreSQL, so each comes as text. */
const ASKED_CONCEPTS = `(select place, list.tokens::int[] as tokens
   from unnest($1::text[]) with ordinality as list (tokens, place)) as asked`;

const READ_CONCEPTS: Statement = {
  name: 'read-concepts',
  text: `select place - 1 as place, concept.id from ${ASKED_CONCEPTS} join concept using (tokens)`,
};

const MAKE_CONCEPTS: Statement = {
  name: 'make-concepts',
  text: `insert into concept (tokens) select tokens from ${ASKED_CONCEPTS} order by place on conflict do nothing`,
};

async function numberSeries(
  ask: Ask,
  keys: readonly SeriesKey[],
  make: boolean,
): Promise<ReadonlyMap<number, number>> {
  const values = SERIES_COLUMNS.map((column) => keys.map((key) => key[column] ?? null));
  if (make) await ask({ ...MAKE_SERIES, values });
  return placesOf(await ask({ ...READ_SERIES, values }));
}

const ASKED_SERIES = `unnest(${SERIES_COLUMNS.map((_, place) => `$${place + 1}::text[]`).join(', ')})
  with ordinality as asked (${SERIES_COLUMNS.join(', ')}, place)`;

const READ_SERIES: Statement = {
  name: 'read-series',
  text: `select place - 1 as place, series.id from ${ASKED_SERIES} join series on
    ${SERIES_COLUMNS.map((column) => `series.${column} is not distinct from asked.${column}`).join(' and ')}`,
};

const MAKE_SERIES: Statement = {
  name: 'make-series',
  text: `insert into series (${SERIES_COLUMNS.join(', ')}) select ${SERIES_COLUMNS.join(', ')} from ${ASKED_SERIES}
         order by place on conflict do nothing`,
};

function placesOf(
  rows: readonly { readonly place: number; readonly id: number }[],
): ReadonlyMap<number, number> {
  return new Map(rows.map(({ place, id }) => [place, id]));
}

function textOfToken({ kind, parameter, system, code }: TokenKey): string {
  return [kind, parameter, fit(system), fit(code)].join('\0');
}

function textOfSeries(key: SeriesKey): string {
  return JSON.stringify(SERIES_COLUMNS.map((column) => key[column] ?? null));
}

/** The text as an index can hold it: NUL, which no column holds, is replaced, and a long one becomes its digest. */
export function fit(text: string): string {
  const clean = text.includes('\0') ? text.replaceAll('\0', '\uFFFD') : text;
  if (clean.length <= LONGEST_TEXT / 4 || Buffer.byteLength(clean) <= LONGEST_TEXT) return clean;
  return `sha256:${createHash('sha256').update(clean).digest('hex')}`;
}
