/** What the answers of the doors other than FHIR are labelled with. */
export const JSON_TYPE = 'application/json; charset=utf-8';
