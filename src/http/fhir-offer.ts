import type { HTTPMethods } from 'fastify';
import {
  DEFINITION_TYPES,
  isKnownProfile,
  profilesOn,
  searchParameters,
  VALIDATED_TYPES,
} from '../fhir/index.js';
import type {
  DefinitionType,
  FhirIssue,
  Interaction,
  OfferedParameter,
  OfferedOperation,
  OfferedType,
  PublishedDefinition,
  ResourceType,
  SearchParameter,
} from '../fhir/index.js';
import {
  DEFINITION_PARAMETERS,
  findDefinition,
  readDefinitionDoor,
  searchDefinitionsDoor,
} from './fhir-definitions.js';
import { historyDoor, NOT_ANSWERED, readDoor, readStanding, searchDoor, vreadDoor } from './fhir-reads.js';
import type { Door, FhirContext } from './fhir-reads.js';
import { validateDoor } from './fhir-validate.js';
import type { PlannedWrite, ValidateContext } from './fhir-validate.js';
import { createDoor, plannedWriteIssues, updateDoor } from './fhir-writes.js';

const READING = ['read', 'vread', 'history-instance', 'search-type'] as const;
const WRITING = ['create', 'update'] as const;

/** What each stored type can be asked over FHIR. Provenances are written by the acts that they tell of. */
const INTERACTIONS: Readonly<Partial<Record<ResourceType, readonly Interaction[]>>> = {
  Observation: [...READING, ...WRITING],
  Patient: [...READING, ...WRITING],
  Encounter: [...READING, ...WRITING],
  Location: [...READING, ...WRITING],
  Practitioner: [...READING, ...WRITING],
  Provenance: READING,
};

interface Place {
  readonly method: HTTPMethods;
  readonly path: string;
}

/** Where each interaction is asked (R4 http), relative to the type. */
const PLACES: Readonly<Record<Interaction, readonly Place[]>> = {
  read: [{ method: 'GET', path: '/:id' }],
  vread: [{ method: 'GET', path: '/:id/_history/:version' }],
  'history-instance': [{ method: 'GET', path: '/:id/_history' }],
  'search-type': [
    { method: 'GET', path: '' },
    { method: 'POST', path: '/_search' },
  ],
  create: [{ method: 'POST', path: '' }],
  update: [{ method: 'PUT', path: '/:id' }],
};

/** One type with its doors; everything is registered and declared from such rows. */
export interface OfferedDoors extends OfferedType {
  readonly routes: readonly (Place & { readonly door: Door })[];
}

/** R4 operation Resource-validate. */
const VALIDATE: OfferedOperation = {
  name: 'validate',
  definition: 'http://hl7.org/fhir/OperationDefinition/Resource-validate',
  documentation:
    'The resource bare, with mode and profile in the query, or as Parameters. Without a resource an instance is validated as it stands.',
};

/** Every type that is stored, published or only validated, each once. */
export function offeredTypes(context: FhirContext): readonly OfferedDoors[] {
  const kept = [...storedTypes(context), ...definitionTypes(context)];
  const names = new Set<string>(kept.map(({ type }) => type));
  const others = [...VALIDATED_TYPES].filter((name) => !names.has(name)).sort();
  return [...kept, ...others.map((name) => offeredType(name, NOTHING_KEPT, context))];
}

/** What is kept of a type, and how it is asked. */
interface KeptType {
  readonly doors: ReadonlyMap<Interaction, Door>;
  readonly parameters: readonly OfferedParameter[];
  readonly readInstance?: ValidateContext['readInstance'];
  readonly writeIssues?: ValidateContext['writeIssues'];
}

const NOTHING_KEPT: KeptType = { doors: new Map(), parameters: [] };

/** Whether a search by the parameter is answered; a composite is by its parts. */
const isAnswered = ({ kind }: SearchParameter): boolean => kind !== 'composite' && !NOT_ANSWERED.has(kind);

function storedTypes(context: FhirContext): readonly OfferedDoors[] {
  return Object.entries(INTERACTIONS).map(([name, interactions]) => {
    const type = name as ResourceType;
    const kept: KeptType = {
      doors: new Map(interactions.map((interaction) => [interaction, DOORS[interaction](type, context)])),
      parameters: searchParameters[type].filter(isAnswered),
      readInstance: (id) => readStanding(type, id, context),
      writeIssues: (planned) => plannedWriteIssues(type, planned, context),
    };
    return offeredType(type, kept, context);
  });
}

const DOORS: Readonly<Record<Interaction, (type: ResourceType, context: FhirContext) => Door>> = {
  read: readDoor,
  vread: vreadDoor,
  'history-instance': historyDoor,
  'search-type': searchDoor,
  create: createDoor,
  update: updateDoor,
};

function definitionTypes(context: FhirContext): readonly OfferedDoors[] {
  return DEFINITION_TYPES.flatMap((type) => {
    const own = context.conformance.definitions.filter((definition) => definition.type === type);
    return own.length === 0 ? [] : [offeredType(type, keptDefinitions(type, own, context), context)];
  });
}

function keptDefinitions(
  type: DefinitionType,
  own: readonly PublishedDefinition[],
  context: FhirContext,
): KeptType {
  return {
    doors: new Map([
      ['read', readDefinitionDoor(type, own)],
      ['search-type', searchDefinitionsDoor(type, own, context)],
    ]),
    parameters: DEFINITION_PARAMETERS,
    readInstance: (id) => findDefinition(type, id, own).body.toString(),
  };
}

/** The row of a type: it is validated where its rules are at hand. */
function offeredType(name: string, kept: KeptType, context: FhirContext): OfferedDoors {
  const { doors, parameters } = kept;
  const routes = [...doors].flatMap(([interaction, door]) =>
    PLACES[interaction].map((place) => ({ ...place, door })),
  );
  const isValidated = VALIDATED_TYPES.has(name);
  return {
    type: name as OfferedType['type'],
    interactions: [...doors.keys()],
    operations: isValidated ? [VALIDATE] : [],
    profiles: profilesOn(name, context.conformance.definitions),
    parameters,
    routes: isValidated ? [...routes, ...validateRoutes(name, kept, context)] : routes,
  };
}

function validateRoutes(type: string, kept: KeptType, context: FhirContext): OfferedDoors['routes'] {
  const { validate, definitions } = context.conformance;
  const { doors, readInstance, writeIssues = () => Promise.resolve([]) } = kept;
  const door = validateDoor(type, {
    validate,
    knowsProfile: (url) => isKnownProfile(url, validate, definitions),
    ...(readInstance === undefined ? {} : { readInstance }),
    writeIssues: async (planned) =>
      isOffered(planned, doors) ? writeIssues(planned) : [notOffered(planned, type)],
  });
  const atType = { method: 'POST', path: '/$validate', door };
  const atInstance = ['GET', 'POST'].map((method) => ({ method, path: '/:id/$validate', door }));
  return readInstance === undefined ? [atType] : [atType, ...atInstance];
}

/** A create at an instance is an update of an id that is not there yet. */
function isOffered({ mode, id }: PlannedWrite, doors: KeptType['doors']): boolean {
  if (mode === 'delete') return false;
  return doors.has(mode === 'create' && id === undefined ? 'create' : 'update');
}

function notOffered({ mode }: PlannedWrite, type: string): FhirIssue {
  const what = mode === 'delete' ? 'Nothing is deleted here' : `A ${type} cannot be written here by ${mode}`;
  const diagnostics = `${what}; /fhir/metadata tells what is offered.`;
  return { severity: 'error', code: 'not-supported', rule: `mode-${mode}`, expression: type, diagnostics };
}
