import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import type * as ownFhir from '../../src/fhir/index.js';
import type * as ownCli from '../../src/cli/conformance.js';

/** Says whether a resource is valid, as far as the validator at hand looks. */
export type Judge = (resource: unknown) => boolean;

/** A validator to be measured. `open` loads all it needs and makes it ready; `isBuilt`: ours from `dist`, not the sources. */
export interface Contestant {
  readonly name: string;
  readonly open: (isBuilt: boolean) => Promise<Judge>;
}

export const contestants: readonly Contestant[] = [
  { name: 'limbledger, base R4', open: openBase },
  { name: 'limbledger, with its profiles', open: openWithProfiles },
  { name: 'ajv 8, R4 JSON schema', open: openAjv },
  { name: 'fhir 4.12', open: openFhirPackage },
];

const own = (module: string, isBuilt: boolean): string =>
  new URL(isBuilt ? `../../dist/${module}.js` : `../../src/${module}.ts`, import.meta.url).href;

async function openBase(isBuilt: boolean): Promise<Judge> {
  const fhir = (await import(own('fhir/index', isBuilt))) as typeof ownFhir;
  const validate = fhir.compileValidator(fhir.r4Definitions);
  return (resource) => !fhir.hasErrors(validate(resource));
}

async function openWithProfiles(isBuilt: boolean): Promise<Judge> {
  const { hasErrors } = (await import(own('fhir/index', isBuilt))) as typeof ownFhir;
  const { openConformance } = (await import(own('cli/conformance', isBuilt))) as typeof ownCli;
  const { validate } = openConformance([]);
  return (resource) => !hasErrors(validate(resource));
}

/** HL7 FHIR R4's own JSON schema (http://hl7.org/fhir/json-schema/4.0, file fhir.schema.json, CC0-1.0), packed. */
const SCHEMA = new URL('fhir.schema.json.gz', import.meta.url);
const SCHEMA_ID = 'http://hl7.org/fhir/json-schema/4.0';

/** The fastest way to use the schema: each type's own definition, compiled when the type first comes. */
async function openAjv(): Promise<Judge> {
  const { Ajv } = await import('ajv');
  const schema = JSON.parse(gunzipSync(readFileSync(SCHEMA)).toString('utf8')) as Record<string, unknown>;
  // Of draft 4 and 6 and of OpenAPI (a mapping); ajv 8 knows another draft. What they say is said by addSchema and $ref.
  for (const name of ['id', '$schema', 'discriminator']) Reflect.deleteProperty(schema, name);
  const ajv = new Ajv({ strict: false, validateFormats: false });
  ajv.addSchema(schema, SCHEMA_ID);
  return (resource) => {
    const { resourceType } = resource as { readonly resourceType: string };
    return ajv.validate(`${SCHEMA_ID}#/definitions/${resourceType}`, resource);
  };
}

async function openFhirPackage(): Promise<Judge> {
  const { Fhir } = await import('fhir/fhir.js');
  const fhir = new Fhir();
  return (resource) => fhir.validate(resource as object).valid;
}
