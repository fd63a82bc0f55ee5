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
  readonly parameters: readonly OfferedParameter[];
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
  const offers = (interaction: Interaction): boolean => offered.interactions.includes(interaction);
  const searchParam = offered.parameters.map(({ code, kind, definition }) => ({
    name: code,
    definition: definition.includes(':') ? definition : `${canonical}/${definition}`,
    type: kind,
  }));
  return {
    type: offered.type,
    interaction: offered.interactions.map((code) => ({ code })),
    versioning: offers('vread') ? 'versioned' : 'no-version',
    readHistory: offers('vread'),
    updateCreate: offers('update'),
    conditionalCreate: false,
    conditionalRead: offers('vread') ? 'full-support' : 'not-supported',
    conditionalUpdate: false,
    conditionalDelete: 'not-supported',
    ...(searchParam.length === 0 ? {} : { searchParam }),
  };
}
