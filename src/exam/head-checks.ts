import { given, zoneOffset } from '../fhir/index.js';
import type { DocumentHead } from './document.js';
import { ruleIssue, type SiteRules } from './rules.js';
import type { Report } from './placed.js';
import { isSamePerson } from './staff.js';

/** The moment a document comes in, and the site's zone in which a time without one of its own is written. */
export interface Now {
  /** In ms since 1970 (UTC). */
  readonly at: number;
  /** IANA name; `UTC` when left out. */
  readonly zone?: string;
}

const MINUTE_MS = 60_000;

/**
 * When the document was typed: as it says, else now, and never before the examination, since a bedside clock may run
 * ahead by the tolerance.
 */
export function recordedAtOf({ performedAt, recordedAt }: DocumentHead, now: Now): string {
  if (recordedAt !== undefined) return recordedAt;
  return Date.parse(performedAt) > now.at ? performedAt : writeInstant(now);
}

/** An instant with its offset in a zone, to the millisecond only when it has some. */
export function writeInstant({ at, zone = 'UTC' }: Now): string {
  const ahead = zoneOffset(at, zone);
  const clock = new Date(at + ahead).toISOString().replace(/\.000Z$|Z$/, '');
  const minutes = Math.abs(ahead) / MINUTE_MS;
  const two = (value: number): string => String(Math.trunc(value)).padStart(2, '0');
  return `${clock}${ahead < 0 ? '-' : '+'}${two(minutes / 60)}:${two(minutes % 60)}`;
}

/** Times of the exam and of its entry (TM-02, TM-04, TM-05). */
export function checkTimes(head: DocumentHead, now: Now, site: SiteRules, report: Report): void {
  const { performedAt, recordedAt } = head;
  const performed = Date.parse(performedAt);
  const latest = now.at + site.clockToleranceMinutes * MINUTE_MS;
  if (performed > latest) report(future('/performedAt', 'The exam was done', performedAt, now));
  if (recordedAt !== undefined) {
    const recorded = Date.parse(recordedAt);
    if (recorded > latest) report(future('/recordedAt', 'The exam was typed', recordedAt, now));
    else if (recorded < performed) {
      const sentence = `The exam was typed at ${recordedAt}, before it was done at ${performedAt}.`;
      report(
        ruleIssue('TM-02', '/recordedAt', sentence, { found: recordedAt, allowed: { from: performedAt } }),
      );
    }
  }
  checkDelay(head, now, site, report);
}

/** A change of a record is not made in the future (TM-02). */
export function checkChangeTime(at: string, now: Now, site: SiteRules, report: Report): void {
  const latest = now.at + site.clockToleranceMinutes * MINUTE_MS;
  if (Date.parse(at) > latest) report(future('/at', 'The change was made', at, now));
}

function future(place: string, what: string, found: string, now: Now): ReturnType<typeof ruleIssue> {
  const until = writeInstant(now);
  const sentence = `${what} at ${found}, which is in the future: it is ${until} now.`;
  return ruleIssue('TM-02', place, sentence, { found, allowed: { until } });
}

/** A late entry is valid and labelled with both times; its reason is asked for and never demanded. */
function checkDelay(head: DocumentHead, now: Now, site: SiteRules, report: Report): void {
  const recordedAt = recordedAtOf(head, now);
  const minutes = (Date.parse(recordedAt) - Date.parse(head.performedAt)) / MINUTE_MS;
  if (minutes <= site.lateEntryMinutes) return;
  const ask = head.lateReason === undefined ? ' A reason may be given in "lateReason".' : '';
  const sentence = `Late entry: done at ${head.performedAt}, typed at ${recordedAt}.${ask}`;
  report(ruleIssue('TM-04', '/performedAt', sentence, { found: recordedAt }));
  if (minutes <= site.veryLateEntryMinutes) return;
  const hours = Math.floor(minutes / 60);
  const late = `The exam was typed ${hours} hours after it was done; the charge nurse sees it.`;
  report(ruleIssue('TM-05', '/performedAt', late, { found: recordedAt }));
}

/** Identity of patient and staff (ID-01 to ID-03). */
export function checkIdentity({ patient, examiner, recorder }: DocumentHead, report: Report): void {
  const { name, birthDate } = patient.readBack;
  if (name === undefined && birthDate === undefined) {
    const sentence =
      'The patient is named by one identifier only: give name, birthDate or both as read back, not the bed.';
    report(ruleIssue('ID-01', '/patient/readBack', sentence, { allowed: ['name', 'birthDate'] }));
  }
  if (examiner.role === undefined) {
    const sentence = 'The examiner has no role: RN, PT, MD ...';
    report(ruleIssue('ID-02', '/examiner/role', sentence, { severity: 'advise' }));
  }
  if (recorder !== undefined && !isSamePerson(given(recorder), given(examiner))) {
    const sentence = `${examiner.identifier.value} examined and ${recorder.identifier.value} typed: both are kept, and the findings are the examiner's.`;
    report(ruleIssue('ID-03', '/recorder', sentence, { severity: 'info', found: recorder.identifier.value }));
  }
}
