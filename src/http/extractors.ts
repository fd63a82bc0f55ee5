import type { Observation } from 'fhir/r4.js';
import { compileExtractor } from '../fhir/index.js';
import type { ExtractionSettings, Lossless, SearchValues, TokenValue } from '../fhir/index.js';
import type { Extractors } from '../store/index.js';
import { pointsOf, siteTokensOf } from '../trends/index.js';

/** What the store draws from each resource that is written: what it is found by, and its points for trends. */
export function extractorsOf(settings: ExtractionSettings): Extractors {
  const extract = compileExtractor(settings);
  return {
    searchValues: (resource) => {
      const values = extract(resource);
      return isObservation(resource) ? withTokens(values, siteTokensOf(resource)) : values;
    },
    points: (resource) => (isObservation(resource) ? pointsOf(resource, settings.siteZone) : []),
  };
}

function isObservation(resource: unknown): resource is Lossless<Observation> {
  return (
    typeof resource === 'object' &&
    resource !== null &&
    'resourceType' in resource &&
    resource.resourceType === 'Observation'
  );
}

function withTokens(values: SearchValues, more: readonly TokenValue[]): SearchValues {
  const said = new Set(values.tokens.map(nameOf));
  const unsaid = more.filter((token) => !said.has(nameOf(token)));
  return unsaid.length === 0 ? values : { ...values, tokens: [...values.tokens, ...unsaid] };
}

const nameOf = ({ parameter, system = '', code }: TokenValue): string => `${parameter}\n${system}\n${code}`;
