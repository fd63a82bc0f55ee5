import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { demoActs, loadDemo, reportLines, type DemoAct } from '../../src/cli/demo/index.js';
import { stringifyJson } from '../../src/fhir/index.js';

/** A request as the doors got it. */
interface Sent {
  readonly method: string;
  readonly path: string;
  readonly body: string;
}

interface Answered {
  readonly status: number;
  readonly body?: unknown;
}

type Answering = (request: Sent, expected: DemoAct | undefined) => Answered | undefined;

const acts = demoActs();
const refusedBodies = new Map(
  acts
    .filter(({ expect: { outcome } }) => outcome === 'refused')
    .map((act) => [stringifyJson(act.send.body), act] as const),
);
const labelled = new Map(
  acts
    .filter(({ expect: { outcome } }) => outcome === 'kept')
    .map((act) => [stringifyJson(act.send.body), act.expect.codes] as const),
);

function clientIdOf(body: string): string {
  return (JSON.parse(body) as { clientId: string }).clientId;
}

/** Doors that keep what they are sent and refuse what the week's story refuses; `instead` may answer otherwise. */
class Doors {
  readonly sent: Sent[] = [];
  readonly #resources = new Map<string, string>();
  readonly #exams = new Map<string, { readonly id: string; readonly body: string; changes: string[] }>();
  readonly #server: Server;

  constructor(instead: Answering = () => undefined) {
    this.#server = createServer((request, response) => {
      void this.#serve(request, response, instead);
    });
  }

  async listen(): Promise<string> {
    await new Promise<void>((resolve) => this.#server.listen(0, '127.0.0.1', resolve));
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}`;
  }

  async close(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  async #serve(request: IncomingMessage, response: ServerResponse, instead: Answering): Promise<void> {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    const sent = {
      method: request.method ?? '',
      path: request.url ?? '',
      body: Buffer.concat(chunks).toString('utf8'),
    };
    if (sent.method !== 'GET') this.sent.push(sent);
    const answer = instead(sent, refusedBodies.get(sent.body)) ?? this.#answer(sent);
    response.writeHead(answer.status, { 'content-type': 'application/json' });
    response.end(answer.body === undefined ? '' : JSON.stringify(answer.body));
  }

  #answer(sent: Sent): Answered {
    const [, door, id] = sent.path.split('/');
    if (door === 'fhir') return this.#resource(sent);
    if (door === 'drafts') return { status: 201 };
    if (door !== 'exams') return { status: 404 };
    return id === undefined ? this.#exam(sent.body) : this.#change(sent, id);
  }

  #resource({ method, path, body }: Sent): Answered {
    if (path.startsWith('/fhir/Observation?')) return { status: 200, body: { total: this.#exams.size * 4 } };
    const there = this.#resources.get(path);
    if (method === 'GET')
      return there === undefined ? { status: 404 } : { status: 200, body: versioned(there) };
    this.#resources.set(path, body);
    return { status: there === undefined ? 201 : 200 };
  }

  #exam(body: string): Answered {
    const clientId = clientIdOf(body);
    const there = this.#exams.get(clientId);
    if (there !== undefined)
      return there.body === body ? { status: 200, body: examAnswer(there) } : { status: 409 };
    const refused = refusedBodies.get(body);
    if (refused !== undefined) return refusal(refused.expect.codes);
    const exam = { id: `id-of-${clientId}`, body, changes: [] };
    this.#exams.set(clientId, exam);
    return { status: 201, body: examAnswer(exam) };
  }

  #change({ method, body }: Sent, id: string): Answered {
    const exam = [...this.#exams.values()].find((row) => row.id === id);
    if (exam === undefined) return { status: 404 };
    if (method === 'GET')
      return { status: 200, body: { changes: exam.changes.map((row) => JSON.parse(row) as unknown) } };
    exam.changes.push(body);
    return { status: 200 };
  }
}

function versioned(body: string): unknown {
  const resource = JSON.parse(body) as { meta: object };
  return { ...resource, meta: { ...resource.meta, versionId: '1', lastUpdated: '2026-11-01T00:00:00Z' } };
}

function examAnswer({ id, body }: { readonly id: string; readonly body: string }): unknown {
  const issues = (labelled.get(body) ?? []).map((code) => ({
    severity: 'advise',
    code,
    sentence: 'A label.',
  }));
  return { id, issues };
}

function refusal(codes: readonly string[]): Answered {
  const issues = codes.map((code) => ({ severity: 'confirm', code, sentence: `Asked: ${code}.` }));
  return {
    status: 422,
    body: { issues: [...issues, { severity: 'info', code: 'other', sentence: 'By the way.' }] },
  };
}

let doors: Doors | undefined;

async function open(instead?: Answering): Promise<string> {
  doors = new Doors(instead);
  return doors.listen();
}

afterEach(async () => {
  await doors?.close();
});

const quiet = (): void => undefined;
const keptExams = acts.filter(
  ({ expect: { outcome }, send }) => outcome === 'kept' && send.path === '/exams',
);

describe('the load of the demo ward', () => {
  it('counts what was kept, refused and sent twice, and finds no difference', async () => {
    const lines: string[] = [];
    const report = await loadDemo(await open(), (line) => lines.push(line));
    expect(report).toMatchObject({
      patients: 24,
      exams: keptExams.length,
      observations: keptExams.length * 4,
      repeats: 1,
      differences: [],
    });
    expect(report.refusals.map(({ label }) => label)).toEqual(
      [...refusedBodies.values()].map(({ label }) => label),
    );
    expect(report.refusals[0]?.faults).toMatchObject([{ code: 'CM-06', sentence: 'Asked: CM-06.' }]);
    expect(lines.at(0)).toBe(`Demo ward: 100 of ${acts.length} sent`);
  });

  it('sends the ward first and the acts of one patient in the order in which they were recorded', async () => {
    await loadDemo(await open(), quiet);
    const sent = doors?.sent ?? [];
    const places = sent.flatMap(({ path }, index) => (path.startsWith('/fhir/') ? [index] : []));
    expect(places).toEqual(places.map((_, index) => index));
    for (const patient of ['P03', 'P06', 'P08', 'P24']) {
      const told = acts.filter((act) => act.patient === patient).map((act) => stringifyJson(act.send.body));
      expect(sent.map(({ body }) => body).filter((body) => told.includes(body))).toEqual(told);
    }
  });

  it('withdraws the very exam whose id the service gave', async () => {
    await loadDemo(await open(), quiet);
    const paths = (doors?.sent ?? []).map(({ path }) => path);
    expect(paths).toContain('/exams/id-of-demo-6e-p03-s04-knee-evening/withdrawals');
    expect(paths).toContain('/exams/id-of-demo-6e-p06-s05-arm-afternoon/addenda');
  });

  it('changes nothing when it runs again', async () => {
    const url = await open();
    await loadDemo(url, quiet);
    const first = doors?.sent.length ?? 0;
    const report = await loadDemo(url, quiet);
    const again = (doors?.sent ?? []).slice(first).map(({ method, path }) => `${method} ${path}`);
    expect(report).toMatchObject({ exams: keptExams.length, differences: [] });
    // what was given up stands nowhere, and is refused again
    expect(report.refusals.map(({ label }) => label)).toEqual(['P18 S10 full']);
    expect(new Set(again)).toEqual(new Set(['POST /exams', 'PUT /drafts/demo-6e-p21-s10-full']));
  });

  it('tells a document that was kept though it should be refused, and goes on', async () => {
    const keepAll: Answering = ({ path }, expected) =>
      path === '/exams' && expected ? { status: 201, body: { id: 'x', issues: [] } } : undefined;
    const report = await loadDemo(await open(keepAll), quiet);
    expect(report.refusals).toEqual([]);
    expect(report.differences).toContainEqual({ label: 'P15 S10 full', expected: '422 BP-01', found: '201' });
    expect(report.differences).toHaveLength(refusedBodies.size);
  });

  it('tells a refusal for another reason than the story has', async () => {
    const other: Answering = (_sent, expected) =>
      expected?.label === 'P01 S5 full' ? refusal(['SF-01', 'VL-02']) : undefined;
    const report = await loadDemo(await open(other), quiet);
    expect(report.differences).toEqual([
      { label: 'P01 S5 full', expected: '422 SF-01', found: '422; SF-01 Asked: SF-01.; VL-02 Asked: VL-02.' },
    ]);
    expect(reportLines(report).join('\n')).toContain('P01 S5 full: expected 422 SF-01; found 422');
  });

  it('tells a late entry that was stored without its label', async () => {
    const bare: Answering = ({ body, path }) =>
      path === '/exams' && body.includes('p24-s07-full') ? { status: 201, body: { id: 'x' } } : undefined;
    const report = await loadDemo(await open(bare), quiet);
    expect(report.differences).toEqual([{ label: 'P24 S7 full', expected: '201 TM-04', found: '201' }]);
  });

  it('tells an answer that is no JSON by its status', async () => {
    const broken: Answering = ({ path }) =>
      path.startsWith('/drafts/') ? { status: 500, body: '<html>' } : undefined;
    const report = await loadDemo(await open(broken), quiet);
    expect(report.differences).toEqual([
      { label: 'P21 S10 full, draft', expected: '200 or 201 or 204', found: '500' },
    ]);
  });

  it('ends with an error when nobody listens', async () => {
    const url = await open();
    await doors?.close();
    await expect(loadDemo(url, quiet)).rejects.toThrow();
  });

  it('says in plain lines what was refused as expected', async () => {
    const report = await loadDemo(await open(), quiet);
    const lines = reportLines(report);
    expect(lines[0]).toMatch(
      /^\d+ exams of 24 patients kept, \d+ Observations, in \d+\.\d s; 1 sent twice and kept once\.$/,
    );
    expect(lines[1]).toBe('13 refused or asked about, as expected:');
    expect(lines).toContain('  P24 S6 full: asked, TM-03 Asked: TM-03.');
    expect(lines.at(-1)).toBe('Every answer was the expected one.');
  });

  it('says once what was asked of many findings in the same words', async () => {
    const often: Answering = (_sent, expected) =>
      expected?.label === 'P16 S10 full' ? refusal(['CX-10', 'CX-10', 'CX-10']) : undefined;
    const lines = reportLines(await loadDemo(await open(often), quiet));
    expect(lines.filter((line) => line.includes('P16'))).toEqual([
      '  P16 S10 full: asked, CX-10 Asked: CX-10. (and 2 more of the kind)',
    ]);
  });
});
