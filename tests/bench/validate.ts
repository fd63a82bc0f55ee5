import { execFileSync } from 'node:child_process';
import { arch, cpus, platform } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { faults, subjects } from './subjects.js';
import { type Contestant, contestants, type Judge } from './validators.js';

const HELP = `Measures the validator against other ways to validate FHIR R4 from npm, in one run.

  npm run bench:validate                  builds, then measures (about a minute)
  npm run bench:validate -- --json        the same, as JSON

  --json       prints JSON in place of tables
  --short      a few milliseconds for each measure: shows that it runs, tells nothing
  --source     measures the sources in place of dist, which must be built else
  --help       prints this

Each validator judges each resource by turns, three rounds long. "per s" counts validations in a second of one core's
work, so that what else the machine does hardly matters; "p50" is the median time of one; "ratio" is our rate over the
other's on the same resource. Start-up is measured in a process of its own: loading, making ready, and the first
judgement on an Observation; each module comes through tsx here, which adds its share.
`;

/** How long to measure each validator on each resource: rounds, and of each the milliseconds and the fewest validations. */
interface Effort {
  readonly rounds: number;
  readonly budgetMs: number;
  readonly atLeast: number;
}

const LONG: Effort = { rounds: 3, budgetMs: 400, atLeast: 5 };
const SHORT: Effort = { rounds: 1, budgetMs: 0, atLeast: 1 };

interface Measure {
  readonly perSecond: number;
  readonly p50Us: number;
}

interface StartUp {
  readonly loadMs: number;
  readonly firstMs: number;
  readonly heapMb: number;
}

type Verdict = 'valid' | 'invalid' | 'throws';

interface Result {
  readonly validator: string;
  readonly startUp: StartUp;
  /** By resource, with the verdict on it, which should be `valid`. */
  readonly subjects: readonly (Measure & { readonly subject: string; readonly verdict: Verdict })[];
  /** By fault; the verdict should be `invalid`. */
  readonly faults: readonly { readonly fault: string; readonly verdict: Verdict }[];
}

const { values: options } = parseArgs({
  options: {
    json: { type: 'boolean', default: false },
    short: { type: 'boolean', default: false },
    source: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
    'start-up': { type: 'string' },
  },
});

const print = (text: string): void => void process.stdout.write(`${text}\n`);

async function run(): Promise<void> {
  const judges = new Map<Contestant, Judge>();
  for (const contestant of contestants) judges.set(contestant, await contestant.open(!options.source));
  const timings = timeByTurns(judges);
  const results = contestants.map((contestant) => resultOf(contestant, judges, timings));
  const machine = `${cpus()[0]?.model ?? 'unknown processor'}, ${platform()} ${arch()}, Node ${process.version}`;
  print(options.json ? JSON.stringify({ machine, results }, undefined, 2) : tablesOf(machine, results));
}

/** The microseconds of each single validation, and those that the processor spent on all. */
interface Timing {
  readonly timesUs: number[];
  cpuUs: number;
}

/** By validator and resource. */
type Timings = ReadonlyMap<Judge, readonly Timing[]>;

function timeByTurns(judges: ReadonlyMap<Contestant, Judge>): Timings {
  const effort = options.short ? SHORT : LONG;
  const timings = new Map(
    [...judges.values()].map((judge) => [judge, subjects.map((): Timing => ({ timesUs: [], cpuUs: 0 }))]),
  );
  for (let round = 0; round <= effort.rounds; round += 1) {
    for (const [judge, bySubject] of timings) {
      for (const [index, [, resource]] of subjects.entries()) {
        // The first round warms up.
        const timing = round === 0 ? undefined : bySubject[index];
        time(judge, resource, effort, timing ?? { timesUs: [], cpuUs: 0 });
      }
    }
  }
  return timings;
}

function time(judge: Judge, resource: object, { budgetMs, atLeast }: Effort, timing: Timing): void {
  const cpuBefore = process.cpuUsage();
  const end = performance.now() + budgetMs;
  let count = 0;
  for (let now = performance.now(); now < end || count < atLeast; count += 1) {
    judge(resource);
    const after = performance.now();
    timing.timesUs.push((after - now) * 1000);
    now = after;
  }
  const { user, system } = process.cpuUsage(cpuBefore);
  timing.cpuUs += user + system;
}

function measureOf({ timesUs, cpuUs }: Timing): Measure {
  const sorted = timesUs.toSorted((left, right) => left - right);
  return { perSecond: (timesUs.length / cpuUs) * 1e6, p50Us: sorted[Math.floor(sorted.length / 2)] ?? 0 };
}

function resultOf(contestant: Contestant, judges: ReadonlyMap<Contestant, Judge>, timings: Timings): Result {
  const judge = judges.get(contestant);
  const bySubject = judge === undefined ? undefined : timings.get(judge);
  if (judge === undefined || bySubject === undefined) throw new Error(`${contestant.name} was not measured`);
  return {
    validator: contestant.name,
    startUp: measureStartUp(contestant.name),
    subjects: subjects.map(([subject, resource], index) => ({
      subject,
      verdict: verdictOf(judge, resource),
      ...measureOf(bySubject[index] ?? { timesUs: [], cpuUs: 0 }),
    })),
    faults: faults.map(([fault, resource]) => ({ fault, verdict: verdictOf(judge, resource) })),
  };
}

function verdictOf(judge: Judge, resource: object): Verdict {
  // As it would be read: without the members that are undefined here to be left out.
  const parsed: unknown = JSON.parse(JSON.stringify(resource));
  try {
    return judge(parsed) ? 'valid' : 'invalid';
  } catch {
    return 'throws';
  }
}

function measureStartUp(name: string): StartUp {
  const script = fileURLToPath(import.meta.url);
  const source = options.source ? ['--source'] : [];
  const once = (): StartUp =>
    JSON.parse(
      execFileSync(
        process.execPath,
        ['--expose-gc', '--import', 'tsx', script, '--start-up', name, ...source],
        { encoding: 'utf8' },
      ),
    ) as StartUp;
  // The first process fills the caches of the disk.
  if (!options.short) once();
  return once();
}

async function startUpOf(name: string): Promise<StartUp> {
  const contestant = contestants.find((each) => each.name === name);
  const [, resource] = subjects[0] ?? [];
  if (contestant === undefined) throw new Error(`there is no validator ${name}`);
  globalThis.gc?.();
  const heapBefore = process.memoryUsage().heapUsed;
  const start = performance.now();
  const judge = await contestant.open(!options.source);
  const ready = performance.now();
  judge(resource);
  const judged = performance.now();
  globalThis.gc?.();
  const heapMb = (process.memoryUsage().heapUsed - heapBefore) / 2 ** 20;
  return { loadMs: ready - start, firstMs: judged - ready, heapMb };
}

function tablesOf(machine: string, results: readonly Result[]): string {
  const speeds = subjects.flatMap(([subject], index) => {
    const measures = results.map((result) => ({ ...result, measure: result.subjects[index] }));
    const own = measures[0]?.measure?.perSecond ?? 0;
    return measures.map(({ validator, measure }, place) => [
      place === 0 ? subject : '',
      validator,
      whole(measure?.perSecond ?? 0),
      tenths(measure?.p50Us ?? 0),
      tenths(own / (measure?.perSecond ?? 1)),
      measure?.verdict ?? '',
    ]);
  });
  const costs = results.map(({ validator, startUp: { loadMs, firstMs, heapMb }, faults: judged }) => [
    validator,
    whole(loadMs),
    whole(firstMs),
    tenths(heapMb),
    `${String(judged.filter(({ verdict }) => verdict === 'invalid').length)} of ${String(judged.length)}`,
  ]);
  const found = faults.map(([fault], index) => [
    fault,
    ...results.map(({ faults: judged }) => judged[index]?.verdict ?? ''),
  ]);
  return [
    machine,
    '',
    tableOf(['valid resource', 'validator', 'per s', 'p50 us', 'ratio', 'verdict'], speeds),
    '',
    tableOf(['validator', 'ready ms', 'first ms', 'heap MB', 'faults found'], costs),
    '',
    tableOf(['fault', ...results.map(({ validator }) => validator)], found),
  ].join('\n');
}

const whole = (value: number): string => Math.round(value).toLocaleString('en');
const tenths = (value: number): string => value.toLocaleString('en', { maximumFractionDigits: 1 });

function tableOf(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = heads.map((head, column) =>
    Math.max(...[heads, ...rows].map((row) => (row[column] ?? head).length)),
  );
  const lineOf = (row: readonly string[]): string =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd();
  return [lineOf(heads), lineOf(widths.map((width) => '-'.repeat(width))), ...rows.map(lineOf)].join('\n');
}

if (options.help) print(HELP);
else if (options['start-up'] !== undefined) print(JSON.stringify(await startUpOf(options['start-up'])));
else await run();
