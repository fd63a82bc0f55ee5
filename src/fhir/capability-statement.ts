import type {
  CapabilityStatement,
  CapabilityStatementRestResource,
  CapabilityStatementRestResourceSearchParam,
} from 'fhir/r4.js';

/** R4 value set type-restful-interaction, as far as it is offered. */
export type Interaction = 'read' | 'vread' | 'history-instance' | 'search-type' | 'create' | 'update';

/** One resource type with everything that its doors do. */
export interface OfferedType {
  readonly type: CapabilityStatementRestResource['type'];
  readonly interactions: readonly Interaction[];
  readonly operations: readonly OfferedOperation[];
  /** Canonical URLs of the profiles that resources of the type can be held to. */
  readonly profiles: readonly string[];
  readonly parameters: readonly OfferedParameter[];
}

/** An operation that is offered for a type. */
export interface OfferedOperation {
  /** Without the `$`. */
  readonly name: string;
  /** Canonical URL of the OperationDefinition. */
  readonly definition: string;
  readonly documentation: string;
}

export interface OfferedParameter {
  readonly code: string;
  readonly kind: CapabilityStatementRestResourceSearchParam['type'];
  /** Canonical URL; relative to `canonical` for our own. */
  readonly definition: string;
}

export interface Offer {
  readonly types: readonly OfferedType[];
  /** The FHIR base, without a slash at its end. */
  readonly baseUrl: string;
  /** Base of the canonical URLs of our own definitions. */
  readonly canonical: string;
  readonly version: string;
  /** Notices that the code systems in use ask for. */
  readonly copyright: string;
  /** IANA zone of dates without one. */
  readonly siteZone: string;
  /** When this statement came to be; ISO 8601. */
  readonly date: string;
}

/**
 * States what is offered over FHIR (R4 capabilitystatement), from the same rows that the doors are made of, so that it
 * can neither promise nor hide anything.
 */
export function capabilityStatement(offer: Offer): CapabilityStatement {
  return {
    resourceType: 'CapabilityStatement',
    status: 'active',
    date: offer.date,
    kind: 'instance',
    copyright: offer.copyright,
    software: { name: 'Limbledger', version: offer.version },
    implementation: {
      description: 'Bedside musculoskeletal examinations as coded Observations',
      url: offer.baseUrl,
    },
    fhirVersion: '4.0.1',
    format: ['application/fhir+json', 'json'],
    rest: [
      {
        mode: 'server',
        documentation: documentationOf(offer.siteZone),
        resource: offer.types.map((offered) => resourceOf(offered, offer.canonical)),
      },
    ],
  };
}

function documentationOf(siteZone: string): string {
  return (
    `Dates without a zone are read in ${siteZone}. If-Match is honoured on update and not demanded. ` +
    'A search parameter that is not offered is left out, and refused under Prefer: handling=strict.'
  );
}

function resourceOf(offered: OfferedType, canonical: string): CapabilityStatementRestResource {
  const { type, profiles, operations } = offered;
  const searchParam = offered.parameters.map(({ code, kind, definition }) => ({
    name: code,
    definition: definition.includes(':') ? definition : `${canonical}/${definition}`,
    type: kind,
  }));
  return {
    type,
    profile: `http://hl7.org/fhir/StructureDefinition/${type}`,
    ...(profiles.length === 0 ? {} : { supportedProfile: [...profiles] }),
    ...(offered.interactions.length === 0 ? {} : keptAs(offered)),
    ...(searchParam.length === 0 ? {} : { searchParam }),
    ...(operations.length === 0 ? {} : { operation: [...operations] }),
  };
}

/** How resources of the type are kept; nothing of it is said of a type that is only validated. */
function keptAs({ interactions }: OfferedType): Omit<CapabilityStatementRestResource, 'type'> {
  const offers = (interaction: Interaction): boolean => interactions.includes(interaction);
  return {
    interaction: interactions.map((code) => ({ code })),
    versioning: offers('vread') ? 'versioned' : 'no-version',
    readHistory: offers('vread'),
    updateCreate: offers('update'),
    conditionalCreate: false,
    conditionalRead: offers('vread') ? 'full-support' : 'not-supported',
    conditionalUpdate: false,
    conditionalDelete: 'not-supported',
    ...(offers('update') ? { referencePolicy: ['literal', 'logical', 'local'] } : {}),
  };
}
