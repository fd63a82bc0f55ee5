import type { Coding, Provenance, ProvenanceAgent, ProvenanceEntity, Reference } from 'fhir/r4.js';
import { given, type Lossless } from '../fhir/index.js';
import { conceptOf, type ExamObservation } from './component.js';
import type { InstantText, Staff } from './exam.js';
import { clientIdentifier, metaOf, staffReference, type ResourceContext } from './to-observations.js';

export type ExamProvenance = Lossless<Provenance>;

/** Something done to an exam: who, when and why. Nothing is deleted; each act adds versions and one Provenance. */
export interface Act {
  readonly kind: ActKind;
  readonly by: Staff;
  /** Who typed it, when that was someone else. */
  readonly enteredBy?: Staff;
  /** When it was examined or decided. */
  readonly occurredAt: InstantText;
  /** When it was typed. */
  readonly recordedAt: InstantText;
  readonly why?: string;
  /** The sender's id of the document that was the source. */
  readonly clientId?: string;
}

export type ActKind = 'exam' | 'correction' | 'withdrawal' | 'addendum';

/** Acts as HL7's v3 DataOperation tells them (R4 value set provenance-activity-type). */
const OPERATION: Readonly<Record<ActKind, { readonly code: string; readonly display: string }>> = {
  exam: { code: 'CREATE', display: 'create' },
  correction: { code: 'UPDATE', display: 'revise' },
  withdrawal: { code: 'NULLIFY', display: 'nullify' },
  addendum: { code: 'APPEND', display: 'append' },
};
const OPERATION_SYSTEM = 'http://terminology.hl7.org/CodeSystem/v3-DataOperation';

/** The Provenance of an act over the resources it wrote, each named with the version that the act made. */
export function toProvenance(
  act: Act,
  targets: readonly ExamObservation[],
  context: ResourceContext,
): ExamProvenance {
  return given({
    resourceType: 'Provenance' as const,
    id: context.newId(),
    meta: metaOf(context),
    target: targets.map(versionReference),
    occurredDateTime: act.occurredAt,
    recorded: act.recordedAt,
    activity: conceptOf([{ system: OPERATION_SYSTEM, ...OPERATION[act.kind] }], act.kind),
    reason: act.why === undefined ? undefined : [{ text: act.why }],
    agent: agentsOf(act, context),
    entity: entitiesOf(act, targets),
  });
}

/** The version that a resource gets when it is written next: the first, or the one after its `meta.versionId`. */
export function nextVersion({ meta }: ExamObservation): number {
  return meta?.versionId === undefined ? 1 : Number(meta.versionId) + 1;
}

function versionReference(resource: ExamObservation): Lossless<Reference> {
  return referenceAt(resource, nextVersion(resource));
}

function referenceAt({ id = '' }: ExamObservation, version: number): Lossless<Reference> {
  return { reference: `Observation/${id}/_history/${version}`, type: 'Observation' };
}

/** R4 value set provenance-agent-type. */
function agentType(code: 'author' | 'enterer', display: string): Coding {
  return { system: 'http://terminology.hl7.org/CodeSystem/provenance-participant-type', code, display };
}

function agentsOf({ by, enteredBy }: Act, context: ResourceContext): readonly Lossless<ProvenanceAgent>[] {
  const agent = (type: Coding, staff: Staff): Lossless<ProvenanceAgent> => ({
    type: { coding: [type] },
    who: staffReference(staff, context),
  });
  const author = agent(agentType('author', 'Author'), by);
  return enteredBy === undefined ? [author] : [author, agent(agentType('enterer', 'Enterer'), enteredBy)];
}

/** What the act came from: the document of an exam, or the version that it replaced or took back. */
function entitiesOf(
  act: Act,
  targets: readonly ExamObservation[],
): readonly Lossless<ProvenanceEntity>[] | undefined {
  if (act.clientId !== undefined) {
    return [{ role: 'source', what: { identifier: clientIdentifier(act.clientId) } }];
  }
  const role = act.kind === 'withdrawal' ? 'removal' : 'revision';
  const earlier = targets.filter((target) => nextVersion(target) > 1);
  return earlier.length === 0
    ? undefined
    : earlier.map((target) => ({ role, what: referenceAt(target, nextVersion(target) - 1) }));
}
