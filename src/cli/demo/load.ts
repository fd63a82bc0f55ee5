import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { stringifyJson, type JsonValue } from '../../fhir/index.js';
import { demoActs, type DemoAct } from './documents.js';
import type { Entry } from './entries.js';

/** What came of the load. */
export interface DemoReport {
  readonly patients: number;
  /** Exam documents on record, those of an earlier load included. */
  readonly exams: number;
  /** Observations on record that are marked as test data, those of every exam's panel included. */
  readonly observations: number;
  /** Documents that the doors refused or asked about, as the week's story has it. */
  readonly refusals: readonly Refusal[];
  /** Documents sent again and answered as the first time. */
  readonly repeats: number;
  /** Answers that are not the expected ones; none when all is well. */
  readonly differences: readonly Difference[];
  readonly seconds: number;
}

/** A document refused as expected, with the faults that stopped it. */
export interface Refusal {
  readonly label: string;
  readonly at: string;
  readonly faults: readonly AnsweredIssue[];
}

/** An issue of an answer: `error` refuses, `confirm` asks. */
export interface AnsweredIssue {
  readonly severity: string;
  readonly code: string;
  readonly sentence: string;
}

/** An answer that is not the expected one. */
export interface Difference {
  readonly label: string;
  readonly expected: string;
  readonly found: string;
}

/** Patients whose acts are under way at the same time. */
const PATIENTS_AT_ONCE = 6;
const REQUEST_TIMEOUT_MS = 60_000;
/** Progress is told after every so many acts. */
const PROGRESS_EVERY = 100;

/**
 * Sends the demo week through the public doors of a running service: the ward, then every patient's acts in the order
 * in which they were recorded, a few patients at a time. Safe to run twice: documents keep their `clientId`, and what
 * is there already is left as it is.
 */
export async function loadDemo(baseUrl: string, say: (line: string) => void): Promise<DemoReport> {
  const started = performance.now();
  const acts = demoActs();
  const load = new Load(baseUrl.replace(/\/+$/, ''), acts.length, say);
  for (const act of acts.filter(({ patient }) => patient === undefined)) await load.send(act);
  await load.sendQueues(queuesOf(acts));
  const observations = await load.countObservations();
  return load.report(observations, (performance.now() - started) / 1000);
}

/** The report in plain lines: counts, then what was refused as expected, then what was not as expected. */
export function reportLines(report: DemoReport): readonly string[] {
  return [
    `${report.exams} exams of ${report.patients} patients kept, ${report.observations} Observations, ` +
      `in ${report.seconds.toFixed(1)} s; ${report.repeats} sent twice and kept once.`,
    `${report.refusals.length} refused or asked about, as expected:`,
    ...report.refusals.flatMap(refusalLines),
    ...(report.differences.length === 0
      ? ['Every answer was the expected one.']
      : [`${report.differences.length} answers were not the expected ones:`]),
    ...report.differences.map(
      ({ label, expected, found }) => `  ${label}: expected ${expected}; found ${found}`,
    ),
  ];
}

/** One line for each code of a refusal: its first sentence, and how often it was said of other findings. */
function refusalLines({ label, faults }: Refusal): readonly string[] {
  const codes = [...new Set(faults.map(({ code }) => code))];
  return codes.flatMap((code) => {
    const [first, ...others] = faults.filter((fault) => fault.code === code);
    if (first === undefined) return [];
    const verb = first.severity === 'error' ? 'refused' : 'asked';
    const more = others.length === 0 ? '' : ` (and ${others.length} more of the kind)`;
    return [`  ${label}: ${verb}, ${code} ${first.sentence}${more}`];
  });
}

function queuesOf(acts: readonly DemoAct[]): readonly (readonly DemoAct[])[] {
  const queues = new Map<string, DemoAct[]>();
  for (const act of acts) {
    if (act.patient === undefined) continue;
    const queue = queues.get(act.patient) ?? [];
    queue.push(act);
    queues.set(act.patient, queue);
  }
  return [...queues.values()];
}

const issue = z.object({
  severity: z.string(),
  code: z.string(),
  sentence: z.string().optional(),
  diagnostics: z.string().optional(),
});

/** What is read of an answer: an exam's, or an OperationOutcome's. */
const answerBody = z.object({
  id: z.string().optional(),
  issues: z.array(issue).optional(),
  issue: z.array(issue).optional(),
});

/** What is read of a search that only counts. */
const countBody = z.object({ total: z.number() });

const COUNT_TEST_DATA =
  '/fhir/Observation?_security=http://terminology.hl7.org/CodeSystem/v3-ActReason|HTEST&_summary=count';

interface Answer {
  readonly status: number;
  readonly id: string | undefined;
  readonly issues: readonly AnsweredIssue[];
}

/** One run of the load: what was sent so far and what came of it. */
class Load {
  readonly #refusals: Refusal[] = [];
  readonly #differences: Difference[] = [];
  /** Ids that the service gave, by `clientId`, and whether an earlier load had sent the document. */
  readonly #exams = new Map<string, { readonly id: string; readonly isOfEarlierLoad: boolean }>();
  readonly #patients = new Set<string>();
  #repeats = 0;
  #sent = 0;

  readonly #baseUrl: string;
  readonly #total: number;
  readonly #say: (line: string) => void;

  constructor(baseUrl: string, total: number, say: (line: string) => void) {
    this.#baseUrl = baseUrl;
    this.#total = total;
    this.#say = say;
  }

  async sendQueues(queues: readonly (readonly DemoAct[])[]): Promise<void> {
    const waiting = [...queues];
    const work = async (): Promise<void> => {
      for (let queue = waiting.shift(); queue !== undefined; queue = waiting.shift()) {
        for (const act of queue) await this.send(act);
      }
    };
    await Promise.all(Array.from({ length: PATIENTS_AT_ONCE }, work));
  }

  async send(act: DemoAct): Promise<void> {
    if (!(await this.#isThereAlready(act))) this.#judge(act, await this.#request(act));
    this.#sent += 1;
    if (act.patient !== undefined) this.#patients.add(act.patient);
    if (this.#sent % PROGRESS_EVERY === 0) this.#say(`Demo ward: ${this.#sent} of ${this.#total} sent`);
  }

  report(observations: number, seconds: number): DemoReport {
    return {
      patients: this.#patients.size,
      exams: this.#exams.size,
      observations,
      refusals: this.#refusals.toSorted((a, b) => Date.parse(a.at) - Date.parse(b.at)),
      repeats: this.#repeats,
      differences: this.#differences,
      seconds,
    };
  }

  async countObservations(): Promise<number> {
    const answer = await this.#fetch(COUNT_TEST_DATA, { method: 'GET' });
    return countBody.parse(await answer.json()).total;
  }

  /** Resources that are as they should be, and changes of exams that an earlier load made, are not sent again. */
  async #isThereAlready({ send }: DemoAct): Promise<boolean> {
    if (send.path.startsWith('/fhir/')) return this.#isResourceThere(send);
    if (send.exam === undefined || this.#exams.get(send.exam)?.isOfEarlierLoad !== true) return false;
    const exam = await this.#fetch(`/exams/${this.#exams.get(send.exam)?.id ?? ''}`, { method: 'GET' });
    return (await exam.text()).includes(stringifyJson(reasonOf(send.body)));
  }

  async #isResourceThere(send: DemoAct['send']): Promise<boolean> {
    const answer = await this.#fetch(send.path, { method: 'GET' });
    if (answer.status !== 200) {
      await answer.body?.cancel();
      return false;
    }
    return isDeepStrictEqual(withoutVersion(await answer.json()), withoutVersion(send.body));
  }

  async #request({ send }: DemoAct): Promise<Answer> {
    const path = send.path.replace('{exam}', this.#exams.get(send.exam ?? '')?.id ?? 'unknown');
    const type = path.startsWith('/fhir/') ? 'application/fhir+json' : 'application/json';
    const answer = await this.#fetch(path, {
      method: send.method,
      headers: { 'content-type': type },
      body: stringifyJson(send.body),
    });
    return readAnswer(answer.status, await answer.text());
  }

  #fetch(path: string, request: RequestInit): Promise<Response> {
    return fetch(`${this.#baseUrl}${path}`, { ...request, signal: AbortSignal.timeout(REQUEST_TIMEOUT_MS) });
  }

  #judge(act: DemoAct, answer: Answer): void {
    const found = faultsOf(act, answer);
    if (found !== undefined) {
      this.#differences.push({ label: act.label, expected: expectationOf(act), found });
      return;
    }
    switch (act.expect.outcome) {
      case 'kept':
        this.#keep(act, answer);
        return;
      case 'repeated':
        this.#repeats += 1;
        return;
      case 'refused':
        if (answer.status === 409) return;
        this.#refusals.push({ label: act.label, at: act.at ?? '', faults: answer.issues.filter(isBlocking) });
    }
  }

  #keep({ send }: DemoAct, answer: Answer): void {
    const clientId = clientIdOf(send);
    if (clientId === undefined || answer.id === undefined) return;
    this.#exams.set(clientId, { id: answer.id, isOfEarlierLoad: answer.status === 200 });
  }
}

function readAnswer(status: number, text: string): Answer {
  const body = answerBody.safeParse(text === '' ? {} : parse(text)).data ?? {};
  const issues = (body.issues ?? body.issue ?? []).map(({ severity, code, sentence, diagnostics }) => ({
    severity,
    code,
    sentence: sentence ?? diagnostics ?? '',
  }));
  return { status, id: body.id, issues };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return {};
  }
}

/** The `clientId` of an exam document that is sent to be kept. */
function clientIdOf({ path, body }: DemoAct['send']): string | undefined {
  const clientId = path === '/exams' ? body['clientId'] : undefined;
  return typeof clientId === 'string' ? clientId : undefined;
}

/** The words by which a change of an exam is known again: why it was made, or what was added. */
function reasonOf(body: Entry): JsonValue {
  return body['why'] ?? body['note'] ?? body;
}

function withoutVersion(resource: unknown): unknown {
  if (typeof resource !== 'object' || resource === null || !('meta' in resource)) return resource;
  const meta = typeof resource.meta === 'object' && resource.meta !== null ? resource.meta : {};
  const kept = Object.entries(meta).filter(([key]) => key !== 'versionId' && key !== 'lastUpdated');
  return { ...resource, meta: Object.fromEntries(kept) };
}

function isBlocking({ severity }: { readonly severity: string }): boolean {
  return severity === 'error' || severity === 'confirm';
}

/** What of an answer is not as expected; undefined when all is. */
function faultsOf(act: DemoAct, answer: Answer): string | undefined {
  const { outcome, codes, statuses } = act.expect;
  if (!statuses.includes(answer.status)) {
    return isOfEarlierLoad(outcome, answer.status) ? undefined : describeAnswer(answer);
  }
  const told = answer.issues.filter((row) => outcome === 'kept' || isBlocking(row)).map(({ code }) => code);
  const areTold = codes.every((code) => told.includes(code));
  const areAll = outcome !== 'refused' || told.every((code) => codes.includes(code));
  return areTold && areAll ? undefined : describeAnswer(answer);
}

/** A second load meets its own documents: kept ones answer 200, refused ones 409 for what was sent in their place. */
function isOfEarlierLoad(outcome: DemoAct['expect']['outcome'], status: number): boolean {
  return (outcome === 'kept' && status === 200) || (outcome === 'refused' && status === 409);
}

function expectationOf({ expect }: DemoAct): string {
  return [expect.statuses.join(' or '), ...expect.codes].join(' ');
}

function describeAnswer({ status, issues }: Answer): string {
  return [
    String(status),
    ...issues.filter(isBlocking).map(({ code, sentence }) => `${code} ${sentence}`),
  ].join('; ');
}
