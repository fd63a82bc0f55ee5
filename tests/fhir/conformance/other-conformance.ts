import { breaks, keeps, type OtherCase, page, warns, withAt, without } from './other-case.js';
import { samples } from './other-samples.js';

/** The invariants of the conformance and terminology types (R4 resource pages, "Constraints"). */
const {
  CapabilityStatement,
  CodeSystem,
  ConceptMap,
  OperationDefinition,
  SearchParameter,
  StructureDefinition,
  ValueSet,
} = samples;

const CAPABILITY = page('capabilitystatement.html#invs');
const CODE_SYSTEM = page('codesystem.html#invs');
const CONCEPT_MAP = page('conceptmap.html#invs');
const OPERATION = page('operationdefinition.html#invs');
const SEARCH = page('searchparameter.html#invs');
const STRUCTURE = page('structuredefinition.html#invs');
const VALUE_SET = page('valueset.html#invs');

/** Every place is taken from the sample when it is undefined. */
function changed(sample: object, changes: Readonly<Record<string, unknown>>): object {
  return Object.entries(changes).reduce(
    (copy, [place, value]) => (value === undefined ? without(copy, place) : withAt(copy, place, value)),
    sample,
  );
}

const statement = (changes: Readonly<Record<string, unknown>>): object =>
  changed(CapabilityStatement, changes);
const structure = (changes: Readonly<Record<string, unknown>>): object =>
  changed(StructureDefinition, changes);
const TARGET = 'ConceptMap.group[0].element[0].target[0]';
const UNMAPPED = 'ConceptMap.group[0].unmapped';
const PARAMETER = 'OperationDefinition.parameter[0]';
const SNAPSHOT = 'StructureDefinition.snapshot.element';
const DIFFERENTIAL = 'StructureDefinition.differential.element';
const INCLUDE = 'ValueSet.compose.include[1]';
const CONTAINS = 'ValueSet.expansion.contains[0]';
const HL7_URL = { 'StructureDefinition.url': 'http://hl7.org/fhir/StructureDefinition/knee' };

const capabilityCases: readonly OtherCase[] = [
  keeps(
    'cpb-0',
    CAPABILITY,
    'a name of letters, digits and underscores',
    statement({ 'CapabilityStatement.name': 'Ward_7b' }),
  ),
  warns(
    'cpb-0',
    'CapabilityStatement',
    CAPABILITY,
    'a name that starts with a digit',
    statement({ 'CapabilityStatement.name': '7b' }),
  ),
  keeps(
    'cpb-1',
    CAPABILITY,
    'a statement of documents only',
    statement({ 'CapabilityStatement.rest': undefined, 'CapabilityStatement.messaging': undefined }),
  ),
  breaks(
    'cpb-1',
    'CapabilityStatement',
    CAPABILITY,
    'a statement of neither rest, messaging nor documents',
    statement({
      'CapabilityStatement.rest': undefined,
      'CapabilityStatement.messaging': undefined,
      'CapabilityStatement.document': undefined,
    }),
  ),
  keeps(
    'cpb-2',
    CAPABILITY,
    'requirements with a description only',
    statement({
      'CapabilityStatement.kind': 'requirements',
      'CapabilityStatement.messaging': undefined,
      'CapabilityStatement.software': undefined,
      'CapabilityStatement.implementation': undefined,
      'CapabilityStatement.description': 'What a ledger must do.',
    }),
  ),
  breaks(
    'cpb-2',
    'CapabilityStatement',
    CAPABILITY,
    'requirements without a description',
    statement({
      'CapabilityStatement.kind': 'requirements',
      'CapabilityStatement.messaging': undefined,
      'CapabilityStatement.software': undefined,
      'CapabilityStatement.implementation': undefined,
    }),
  ),
  keeps('cpb-3', CAPABILITY, 'an endpoint for messages of an instance', CapabilityStatement),
  breaks(
    'cpb-3',
    'CapabilityStatement',
    CAPABILITY,
    'an endpoint for messages of a product',
    statement({ 'CapabilityStatement.kind': 'capability', 'CapabilityStatement.implementation': undefined }),
  ),
  keeps(
    'cpb-7',
    CAPABILITY,
    'one document profile in both modes',
    statement({
      'CapabilityStatement.document[1]': {
        mode: 'consumer',
        profile: 'http://hospital.example/StructureDefinition/exam',
      },
    }),
  ),
  breaks(
    'cpb-7',
    'CapabilityStatement',
    CAPABILITY,
    'one document profile twice in one mode',
    statement({
      'CapabilityStatement.document[1]': {
        mode: 'producer',
        profile: 'http://hospital.example/StructureDefinition/exam',
      },
    }),
  ),
  keeps(
    'cpb-9',
    CAPABILITY,
    'one type as a server and as a client',
    statement({ 'CapabilityStatement.rest[1]': { mode: 'client', resource: [{ type: 'Observation' }] } }),
  ),
  breaks(
    'cpb-9',
    'CapabilityStatement.rest[0]',
    CAPABILITY,
    'one type twice in one mode',
    statement({ 'CapabilityStatement.rest[0].resource[1]': { type: 'Observation' } }),
  ),
  keeps(
    'cpb-12',
    CAPABILITY,
    'one search parameter name on two types',
    statement({
      'CapabilityStatement.rest[0].resource[1]': {
        type: 'Patient',
        searchParam: [{ name: 'code', type: 'string' }],
      },
    }),
  ),
  breaks(
    'cpb-12',
    'CapabilityStatement.rest[0].resource[0]',
    CAPABILITY,
    'one search parameter name twice on a type',
    statement({ 'CapabilityStatement.rest[0].resource[0].searchParam[1]': { name: 'code', type: 'string' } }),
  ),
  keeps(
    'cpb-14',
    CAPABILITY,
    'an instance that does not tell its software',
    statement({ 'CapabilityStatement.software': undefined }),
  ),
  breaks(
    'cpb-14',
    'CapabilityStatement',
    CAPABILITY,
    'an instance without its implementation',
    statement({ 'CapabilityStatement.implementation': undefined }),
  ),
  keeps(
    'cpb-15',
    CAPABILITY,
    'a product with its software',
    statement({
      'CapabilityStatement.kind': 'capability',
      'CapabilityStatement.implementation': undefined,
      'CapabilityStatement.messaging': undefined,
    }),
  ),
  breaks(
    'cpb-15',
    'CapabilityStatement',
    CAPABILITY,
    'a product with an implementation',
    statement({ 'CapabilityStatement.kind': 'capability', 'CapabilityStatement.messaging': undefined }),
  ),
  breaks(
    'cpb-15',
    'CapabilityStatement',
    CAPABILITY,
    'a product without its software',
    statement({
      'CapabilityStatement.kind': 'capability',
      'CapabilityStatement.implementation': undefined,
      'CapabilityStatement.software': undefined,
      'CapabilityStatement.description': 'A product.',
      'CapabilityStatement.messaging': undefined,
    }),
  ),
  keeps(
    'cpb-16',
    CAPABILITY,
    'requirements of no software',
    statement({
      'CapabilityStatement.kind': 'requirements',
      'CapabilityStatement.messaging[0].endpoint': undefined,
      'CapabilityStatement.software': undefined,
      'CapabilityStatement.implementation': undefined,
      'CapabilityStatement.description': 'What a ledger must do.',
    }),
  ),
  breaks(
    'cpb-16',
    'CapabilityStatement',
    CAPABILITY,
    'requirements that name software',
    statement({
      'CapabilityStatement.kind': 'requirements',
      'CapabilityStatement.messaging': undefined,
      'CapabilityStatement.implementation': undefined,
    }),
  ),
];

const terminologyCases: readonly OtherCase[] = [
  keeps('csd-0', CODE_SYSTEM, 'a code system without a name', without(CodeSystem, 'CodeSystem.name')),
  warns(
    'csd-0',
    'CodeSystem',
    CODE_SYSTEM,
    'a name with a hyphen',
    withAt(CodeSystem, 'CodeSystem.name', 'Knee-codes'),
  ),
  keeps(
    'csd-1',
    CODE_SYSTEM,
    'codes that differ in case only',
    withAt(CodeSystem, 'CodeSystem.concept[1].code', 'Flexion'),
  ),
  keeps(
    'csd-1',
    CODE_SYSTEM,
    'a property with the code of a concept',
    withAt(CodeSystem, 'CodeSystem.property[0].code', 'flexion'),
  ),
  breaks(
    'csd-1',
    'CodeSystem',
    CODE_SYSTEM,
    'one code twice side by side',
    withAt(CodeSystem, 'CodeSystem.concept[1].code', 'flexion'),
  ),
  breaks(
    'csd-1',
    'CodeSystem',
    CODE_SYSTEM,
    'the code of a parent on its child',
    withAt(CodeSystem, 'CodeSystem.concept[0].concept[0].code', 'flexion'),
  ),
  breaks(
    'csd-1',
    'CodeSystem',
    CODE_SYSTEM,
    'one code three levels down and at the top',
    withAt(CodeSystem, 'CodeSystem.concept[0].concept[0].concept', [{ code: 'extension' }]),
  ),

  keeps(
    'cmd-0',
    CONCEPT_MAP,
    'a name of 255 characters',
    withAt(ConceptMap, 'ConceptMap.name', `M${'a'.repeat(254)}`),
  ),
  warns(
    'cmd-0',
    'ConceptMap',
    CONCEPT_MAP,
    'a name of 256 characters',
    withAt(ConceptMap, 'ConceptMap.name', `M${'a'.repeat(255)}`),
  ),
  keeps('cmd-1', CONCEPT_MAP, 'an equal concept without a comment', ConceptMap),
  keeps(
    'cmd-1',
    CONCEPT_MAP,
    'a narrower concept with a comment',
    changed(ConceptMap, {
      [`${TARGET}.equivalence`]: 'narrower',
      [`${TARGET}.comment`]: 'Of the knee only.',
    }),
  ),
  breaks(
    'cmd-1',
    TARGET,
    CONCEPT_MAP,
    'a narrower concept without a comment',
    withAt(ConceptMap, `${TARGET}.equivalence`, 'narrower'),
  ),
  breaks(
    'cmd-1',
    TARGET,
    CONCEPT_MAP,
    'an inexact concept without a comment',
    withAt(ConceptMap, `${TARGET}.equivalence`, 'inexact'),
  ),
  keeps(
    'cmd-2',
    CONCEPT_MAP,
    'a fixed code for all else',
    withAt(ConceptMap, UNMAPPED, { mode: 'fixed', code: 'other' }),
  ),
  breaks(
    'cmd-2',
    UNMAPPED,
    CONCEPT_MAP,
    'a fixed code that is not told',
    withAt(ConceptMap, UNMAPPED, { mode: 'fixed' }),
  ),
  keeps(
    'cmd-3',
    CONCEPT_MAP,
    'another map for all else',
    withAt(ConceptMap, UNMAPPED, { mode: 'other-map', url: 'http://hospital.example/ConceptMap/rest' }),
  ),
  breaks(
    'cmd-3',
    UNMAPPED,
    CONCEPT_MAP,
    'another map that is not told',
    withAt(ConceptMap, UNMAPPED, { mode: 'other-map' }),
  ),

  keeps('vsd-0', VALUE_SET, 'a value set without a name', without(ValueSet, 'ValueSet.name')),
  warns(
    'vsd-0',
    'ValueSet',
    VALUE_SET,
    'the name of a value set in small letters',
    withAt(ValueSet, 'ValueSet.name', 'movements'),
  ),
  keeps('vsd-1', VALUE_SET, 'an include of a value set only', ValueSet),
  breaks(
    'vsd-1',
    'ValueSet.compose.include[2]',
    VALUE_SET,
    'an include of a version only',
    withAt(ValueSet, 'ValueSet.compose.include[2]', { version: '1' }),
  ),
  breaks(
    'vsd-1',
    'ValueSet.compose.exclude[1]',
    VALUE_SET,
    'an exclude of a version only, which has the rules of an include',
    withAt(ValueSet, 'ValueSet.compose.exclude[1]', { version: '1' }),
  ),
  keeps(
    'vsd-2',
    VALUE_SET,
    'a filter on a system within a value set',
    withAt(ValueSet, `${INCLUDE}.valueSet`, ['http://hospital.example/ValueSet/others']),
  ),
  breaks(
    'vsd-2',
    INCLUDE,
    VALUE_SET,
    'a filter on a value set without a system',
    changed(ValueSet, {
      [`${INCLUDE}.system`]: undefined,
      [`${INCLUDE}.valueSet`]: ['http://hospital.example/ValueSet/others'],
    }),
  ),
  keeps(
    'vsd-3',
    VALUE_SET,
    'two filters',
    withAt(ValueSet, `${INCLUDE}.filter[1]`, { property: 'inactive', op: '=', value: 'false' }),
  ),
  breaks(
    'vsd-3',
    INCLUDE,
    VALUE_SET,
    'concepts and filters in one include',
    withAt(ValueSet, `${INCLUDE}.concept`, [{ code: '72696002' }]),
  ),
  keeps('vsd-6', VALUE_SET, 'an abstract heading of a display only', ValueSet),
  breaks(
    'vsd-6',
    CONTAINS,
    VALUE_SET,
    'a heading of neither a code nor a display',
    without(ValueSet, `${CONTAINS}.display`),
  ),
  keeps(
    'vsd-9',
    VALUE_SET,
    'an abstract concept with a code',
    changed(ValueSet, {
      [`${CONTAINS}.code`]: 'all',
      [`${CONTAINS}.system`]: 'http://hospital.example/movements',
    }),
  ),
  breaks(
    'vsd-9',
    CONTAINS,
    VALUE_SET,
    'a concept of the expansion that has no code and is not abstract',
    withAt(ValueSet, `${CONTAINS}.abstract`, false),
  ),
  breaks(
    'vsd-9',
    CONTAINS,
    VALUE_SET,
    'a concept of the expansion that has no code and does not say that it is abstract',
    without(ValueSet, `${CONTAINS}.abstract`),
  ),
  keeps(
    'vsd-10',
    VALUE_SET,
    'a system without a code on an abstract concept',
    withAt(ValueSet, `${CONTAINS}.system`, 'http://hospital.example/movements'),
  ),
  breaks(
    'vsd-10',
    `${CONTAINS}.contains[0]`,
    VALUE_SET,
    'a code without its system, one level down',
    without(ValueSet, `${CONTAINS}.contains[0].system`),
  ),
];

const searchCases: readonly OtherCase[] = [
  keeps(
    'opd-0',
    OPERATION,
    'a name in capitals',
    withAt(OperationDefinition, 'OperationDefinition.name', 'LATEST'),
  ),
  warns(
    'opd-0',
    'OperationDefinition',
    OPERATION,
    'a name with a full stop',
    withAt(OperationDefinition, 'OperationDefinition.name', 'Latest.Of'),
  ),
  keeps('opd-1', OPERATION, 'a parameter of parts only', OperationDefinition),
  breaks(
    'opd-1',
    'OperationDefinition.parameter[1]',
    OPERATION,
    'a parameter of neither a type nor parts',
    without(OperationDefinition, 'OperationDefinition.parameter[1].part'),
  ),
  breaks(
    'opd-1',
    'OperationDefinition.parameter[1].part[1]',
    OPERATION,
    'a part of neither a type nor parts',
    withAt(OperationDefinition, 'OperationDefinition.parameter[1].part[1]', {
      name: 'when',
      use: 'out',
      min: 0,
      max: '1',
    }),
  ),
  keeps(
    'opd-2',
    OPERATION,
    'a text with a type of search',
    withAt(OperationDefinition, `${PARAMETER}.searchType`, 'reference'),
  ),
  breaks(
    'opd-2',
    PARAMETER,
    OPERATION,
    'a code with a type of search',
    withAt(OperationDefinition, `${PARAMETER}.type`, 'code'),
  ),
  breaks(
    'opd-2',
    'OperationDefinition.parameter[1]',
    OPERATION,
    'parts with a type of search',
    withAt(OperationDefinition, 'OperationDefinition.parameter[1].searchType', 'token'),
  ),
  keeps(
    'opd-3',
    OPERATION,
    'a canonical URL with its target',
    changed(OperationDefinition, {
      [`${PARAMETER}.searchType`]: undefined,
      [`${PARAMETER}.type`]: 'canonical',
      [`${PARAMETER}.targetProfile`]: ['http://hl7.org/fhir/StructureDefinition/ValueSet'],
    }),
  ),
  breaks(
    'opd-3',
    PARAMETER,
    OPERATION,
    'a text with a target',
    withAt(OperationDefinition, `${PARAMETER}.targetProfile`, [
      'http://hl7.org/fhir/StructureDefinition/Patient',
    ]),
  ),

  keeps(
    'spd-0',
    SEARCH,
    'a name with a capital first',
    withAt(SearchParameter, 'SearchParameter.name', 'Side'),
  ),
  warns(
    'spd-0',
    'SearchParameter',
    SEARCH,
    'the name of a search parameter in small letters',
    SearchParameter,
  ),
  keeps(
    'spd-1',
    SEARCH,
    'a use of an XPath without the XPath',
    without(SearchParameter, 'SearchParameter.xpath'),
  ),
  breaks(
    'spd-1',
    'SearchParameter',
    SEARCH,
    'an XPath without its use',
    without(SearchParameter, 'SearchParameter.xpathUsage'),
  ),
  keeps(
    'spd-2',
    SEARCH,
    'chains of a reference',
    withAt(SearchParameter, 'SearchParameter.chain', ['name', 'identifier']),
  ),
  breaks(
    'spd-2',
    'SearchParameter',
    SEARCH,
    'chains of a token',
    changed(SearchParameter, { 'SearchParameter.chain': ['name'], 'SearchParameter.type': 'token' }),
  ),
];

const structureCases: readonly OtherCase[] = [
  keeps('sdf-0', STRUCTURE, 'a name with digits', structure({ 'StructureDefinition.name': 'Knee2' })),
  warns(
    'sdf-0',
    'StructureDefinition',
    STRUCTURE,
    'a name with spaces',
    structure({ 'StructureDefinition.name': 'A Knee' }),
  ),
  keeps(
    'sdf-1',
    STRUCTURE,
    'one path twice in the snapshot of a constraint',
    structure({ [`${SNAPSHOT}[2]`]: element('Observation.status', 'Observation.status:again') }),
  ),
  breaks(
    'sdf-1',
    'StructureDefinition',
    STRUCTURE,
    'one path twice in the snapshot of a specialization',
    structure({
      'StructureDefinition.derivation': 'specialization',
      [`${SNAPSHOT}[2]`]: element('Observation.status', 'Observation.status:again'),
    }),
  ),
  breaks(
    'sdf-1',
    'StructureDefinition',
    STRUCTURE,
    'one path twice in the snapshot of a structure that does not say how it is derived',
    structure({
      'StructureDefinition.derivation': undefined,
      [`${SNAPSHOT}[2]`]: element('Observation.status', 'Observation.status:again'),
    }),
  ),
  keeps(
    'sdf-2',
    STRUCTURE,
    'a mapping of a uri only',
    structure({ 'StructureDefinition.mapping[0]': { identity: 'v2', uri: 'http://hl7.org/v2' } }),
  ),
  breaks(
    'sdf-2',
    'StructureDefinition.mapping[0]',
    STRUCTURE,
    'a mapping of an identity only',
    structure({ 'StructureDefinition.mapping[0].name': undefined }),
  ),
  keeps('sdf-3', STRUCTURE, 'elements of a snapshot that are defined whole', StructureDefinition),
  breaks(
    'sdf-3',
    'StructureDefinition.snapshot',
    STRUCTURE,
    'an element of a snapshot without a definition',
    structure({ [`${SNAPSHOT}[1].definition`]: undefined }),
  ),
  breaks(
    'sdf-3',
    'StructureDefinition.snapshot',
    STRUCTURE,
    'an element of a snapshot without its least number',
    structure({ [`${SNAPSHOT}[1].min`]: undefined }),
  ),
  breaks(
    'sdf-3',
    'StructureDefinition.snapshot',
    STRUCTURE,
    'an element of a snapshot without its greatest number',
    structure({ [`${SNAPSHOT}[1].max`]: undefined }),
  ),
  keeps(
    'sdf-4',
    STRUCTURE,
    'an abstract structure without a base',
    structure({ 'StructureDefinition.abstract': true, 'StructureDefinition.baseDefinition': undefined }),
  ),
  breaks(
    'sdf-4',
    'StructureDefinition',
    STRUCTURE,
    'a structure without a base that is not abstract',
    structure({ 'StructureDefinition.baseDefinition': undefined }),
  ),
  keeps('sdf-5', STRUCTURE, 'an extension with its context', extension({})),
  keeps(
    'sdf-5',
    STRUCTURE,
    'the type Extension itself, which has no context',
    extension({ derivation: 'specialization', context: undefined }),
  ),
  breaks(
    'sdf-5',
    'StructureDefinition',
    STRUCTURE,
    'an extension without a context',
    extension({ context: undefined }),
  ),
  breaks(
    'sdf-5',
    'StructureDefinition',
    STRUCTURE,
    'an extension that says neither its context nor how it is derived',
    extension({ context: undefined, derivation: undefined }),
  ),
  keeps(
    'sdf-6',
    STRUCTURE,
    'a differential without a snapshot',
    structure({ 'StructureDefinition.snapshot': undefined }),
  ),
  keeps(
    'sdf-6',
    STRUCTURE,
    'a snapshot without a differential',
    structure({ 'StructureDefinition.differential': undefined }),
  ),
  breaks(
    'sdf-6',
    'StructureDefinition',
    STRUCTURE,
    'neither a differential nor a snapshot',
    structure({ 'StructureDefinition.snapshot': undefined, 'StructureDefinition.differential': undefined }),
  ),
  keeps('sdf-8', STRUCTURE, 'a snapshot whose paths start with the type', StructureDefinition),
  breaks(
    'sdf-8',
    'StructureDefinition.snapshot',
    STRUCTURE,
    'an element of another type in the snapshot',
    structure({ [`${SNAPSHOT}[1].path`]: 'Patient.status' }),
  ),
  keeps(
    'sdf-8a',
    STRUCTURE,
    'a differential that does not start with the root',
    structure({ [DIFFERENTIAL]: [{ id: 'Observation.code', path: 'Observation.code' }] }),
  ),
  keeps('sdf-8a', STRUCTURE, 'a logical model of a path of its own', logical({})),
  breaks(
    'sdf-8a',
    'StructureDefinition.differential',
    STRUCTURE,
    'an element of another type in the differential',
    structure({ [`${DIFFERENTIAL}[1].path`]: 'Patient.subject' }),
  ),
  keeps('sdf-8b', STRUCTURE, 'elements of a snapshot with their base', StructureDefinition),
  breaks(
    'sdf-8b',
    'StructureDefinition.snapshot',
    STRUCTURE,
    'an element of a snapshot without its base',
    structure({ [`${SNAPSHOT}[1].base`]: undefined }),
  ),
  keeps(
    'sdf-9',
    STRUCTURE,
    'requirements of an element below the root',
    structure({ [`${DIFFERENTIAL}[1].requirements`]: 'Whose knee.' }),
  ),
  breaks(
    'sdf-9',
    'StructureDefinition',
    STRUCTURE,
    'requirements of the root',
    structure({ [`${DIFFERENTIAL}[0].requirements`]: 'Why a knee.' }),
  ),
  breaks(
    'sdf-9',
    'StructureDefinition',
    STRUCTURE,
    'a label of the root in the snapshot',
    structure({ [`${SNAPSHOT}[0].label`]: 'Knee' }),
  ),
  keeps(
    'sdf-10',
    STRUCTURE,
    'a binding that is described without a value set',
    structure({ [`${SNAPSHOT}[1].binding`]: { strength: 'example', description: 'Any code.' } }),
  ),
  breaks(
    'sdf-10',
    `${SNAPSHOT}[1]`,
    STRUCTURE,
    'a binding of its strength only',
    structure({ [`${SNAPSHOT}[1].binding.valueSet`]: undefined }),
  ),
  keeps('sdf-11', STRUCTURE, 'a snapshot that starts with the type', StructureDefinition),
  {
    ...breaks(
      'sdf-11',
      'StructureDefinition',
      STRUCTURE,
      'a type that is not that of the snapshot',
      structure({ 'StructureDefinition.type': 'Observ', 'StructureDefinition.differential': undefined }),
    ),
    also: ['sdf-8 StructureDefinition.snapshot'],
  },
  keeps('sdf-14', STRUCTURE, 'elements that all have an id', StructureDefinition),
  {
    ...breaks(
      'sdf-14',
      'StructureDefinition',
      STRUCTURE,
      'an element of the differential without an id',
      structure({ [`${DIFFERENTIAL}[1].id`]: undefined }),
    ),
    also: ['sdf-17 StructureDefinition'],
  },
  keeps('sdf-15', STRUCTURE, 'a root without a type', StructureDefinition),
  breaks(
    'sdf-15',
    'StructureDefinition',
    STRUCTURE,
    'a root with a type in the snapshot',
    structure({ [`${SNAPSHOT}[0].type`]: [{ code: 'DomainResource' }] }),
  ),
  keeps(
    'sdf-15a',
    STRUCTURE,
    'a logical model whose root has a type',
    logical({ type: [{ code: 'Element' }] }),
  ),
  breaks(
    'sdf-15a',
    'StructureDefinition',
    STRUCTURE,
    'a root with a type in the differential',
    structure({ [`${DIFFERENTIAL}[0].type`]: [{ code: 'DomainResource' }] }),
  ),
  keeps('sdf-16', STRUCTURE, 'ids of a snapshot that differ', StructureDefinition),
  breaks(
    'sdf-16',
    'StructureDefinition',
    STRUCTURE,
    'one id twice in the snapshot',
    structure({ [`${SNAPSHOT}[2]`]: element('Observation.code', 'Observation.status') }),
  ),
  keeps('sdf-17', STRUCTURE, 'one id in the snapshot and in the differential', StructureDefinition),
  breaks(
    'sdf-17',
    'StructureDefinition',
    STRUCTURE,
    'one id twice in the differential',
    structure({ [`${DIFFERENTIAL}[2]`]: { id: 'Observation.subject', path: 'Observation.code' } }),
  ),
  keeps(
    'sdf-18',
    STRUCTURE,
    'an invariant of the context of an extension',
    extension({ contextInvariant: ['true'] }),
  ),
  breaks(
    'sdf-18',
    'StructureDefinition',
    STRUCTURE,
    'an invariant of the context of what is no extension',
    structure({ 'StructureDefinition.contextInvariant': ['true'] }),
  ),
  keeps(
    'sdf-19',
    STRUCTURE,
    'a type of another model outside of the standard',
    structure({
      [`${DIFFERENTIAL}[1].type`]: [{ code: 'http://hospital.example/StructureDefinition/pair' }],
    }),
  ),
  keeps(
    'sdf-19',
    STRUCTURE,
    "a FHIRPath type under the standard's own URL",
    structure({
      ...HL7_URL,
      [`${DIFFERENTIAL}[1].type`]: [{ code: 'http://hl7.org/fhirpath/System.String' }],
    }),
  ),
  breaks(
    'sdf-19',
    'StructureDefinition',
    STRUCTURE,
    "a type of another model under the standard's own URL",
    structure({
      ...HL7_URL,
      [`${DIFFERENTIAL}[1].type`]: [{ code: 'http://hospital.example/StructureDefinition/pair' }],
    }),
  ),
  keeps('sdf-20', STRUCTURE, 'slicing below the root', StructureDefinition),
  breaks(
    'sdf-20',
    'StructureDefinition.differential',
    STRUCTURE,
    'slicing of the root',
    structure({ [`${DIFFERENTIAL}[0].slicing`]: { description: 'any', rules: 'open' } }),
  ),
  keeps(
    'sdf-21',
    STRUCTURE,
    'a default in a specialization',
    structure({
      'StructureDefinition.derivation': 'specialization',
      [`${DIFFERENTIAL}[1].defaultValueString`]: 'a',
    }),
  ),
  breaks(
    'sdf-21',
    'StructureDefinition',
    STRUCTURE,
    'a default in a constraint',
    structure({ [`${DIFFERENTIAL}[1].defaultValueString`]: 'a' }),
  ),
  keeps('sdf-22', STRUCTURE, "no default under the standard's own URL", structure(HL7_URL)),
  breaks(
    'sdf-22',
    'StructureDefinition',
    STRUCTURE,
    "a default under the standard's own URL",
    structure({
      ...HL7_URL,
      'StructureDefinition.derivation': 'specialization',
      [`${DIFFERENTIAL}[1].defaultValueString`]: 'a',
    }),
  ),
  keeps(
    'sdf-23',
    STRUCTURE,
    'a named slice below the root',
    structure({ [`${DIFFERENTIAL}[1].sliceName`]: 'left' }),
  ),
  breaks(
    'sdf-23',
    'StructureDefinition',
    STRUCTURE,
    'a root that is a slice',
    structure({ [`${DIFFERENTIAL}[0].sliceName`]: 'left' }),
  ),
];

/** An element of a snapshot. */
function element(path: string, id: string): object {
  return { id, path, definition: 'An element.', min: 0, max: '1', base: { path, min: 0, max: '1' } };
}

function extension(changes: object): object {
  const definition = {
    resourceType: 'StructureDefinition',
    url: 'http://hospital.example/StructureDefinition/side',
    name: 'Side',
    status: 'draft',
    kind: 'complex-type',
    abstract: false,
    context: [{ type: 'element', expression: 'CodeableConcept' }],
    type: 'Extension',
    baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Extension',
    derivation: 'constraint',
    differential: { element: [{ id: 'Extension', path: 'Extension', short: 'Side' }] },
    ...changes,
  };
  return Object.fromEntries(Object.entries<unknown>(definition).filter(([, value]) => value !== undefined));
}

/** A logical model, whose first element has what `root` says. */
function logical(root: object): object {
  return {
    resourceType: 'StructureDefinition',
    url: 'http://hospital.example/StructureDefinition/sheet',
    name: 'Sheet',
    status: 'draft',
    kind: 'logical',
    abstract: false,
    type: 'http://hospital.example/StructureDefinition/sheet',
    baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Element',
    derivation: 'specialization',
    differential: {
      element: [
        { id: 'Sheet', path: 'Sheet', ...root },
        { id: 'Sheet.line', path: 'Sheet.line', min: 0, max: '*', type: [{ code: 'string' }] },
      ],
    },
  };
}

/** ElementDefinition, tried on the second element of the differential. */
const ELEMENT = `${DIFFERENTIAL}[1]`;
const ELEMENT_PAGE = page('elementdefinition.html#invs');
const defined = (changes: Readonly<Record<string, unknown>>): object =>
  structure(
    Object.fromEntries(Object.entries(changes).map(([name, value]) => [`${ELEMENT}.${name}`, value])),
  );
const KEYED = { severity: 'error', human: 'A rule.', expression: 'true' };

const elementCases: readonly OtherCase[] = [
  keeps(
    'eld-1',
    ELEMENT_PAGE,
    'slicing that is described',
    defined({ slicing: { description: 'by side', rules: 'open' } }),
  ),
  breaks(
    'eld-1',
    `${ELEMENT}.slicing`,
    ELEMENT_PAGE,
    'slicing without a discriminator and a description',
    defined({ slicing: { rules: 'closed', ordered: false } }),
  ),
  keeps('eld-2', ELEMENT_PAGE, 'as few as many', defined({ min: 2, max: '2' })),
  keeps('eld-2', ELEMENT_PAGE, 'at least three and any number', defined({ min: 3, max: '*' })),
  keeps(
    'eld-2',
    ELEMENT_PAGE,
    'at least 2 and at most 10, in the order of numbers',
    defined({ min: 2, max: '10' }),
  ),
  breaks('eld-2', ELEMENT, ELEMENT_PAGE, 'at least two and at most one', defined({ min: 2, max: '1' })),
  keeps('eld-3', ELEMENT_PAGE, 'none at most', defined({ min: 0, max: '0' })),
  breaks(
    'eld-3',
    `${ELEMENT}.max`,
    ELEMENT_PAGE,
    'fewer than none at most',
    defined({ min: undefined, max: '-1' }),
  ),
  breaks(
    'eld-3',
    `${ELEMENT}.max`,
    ELEMENT_PAGE,
    'a greatest number in words',
    defined({ min: undefined, max: 'many' }),
  ),
  keeps(
    'eld-4',
    ELEMENT_PAGE,
    'aggregation of a canonical URL',
    defined({ type: [{ code: 'canonical', aggregation: ['contained'] }] }),
  ),
  breaks(
    'eld-4',
    `${ELEMENT}.type[0]`,
    ELEMENT_PAGE,
    'aggregation of a text',
    defined({ type: [{ code: 'string', aggregation: ['contained'] }] }),
  ),
  keeps(
    'eld-5',
    ELEMENT_PAGE,
    'the content of another element',
    defined({ type: undefined, example: undefined, contentReference: '#Observation.subject' }),
  ),
  breaks(
    'eld-5',
    ELEMENT,
    ELEMENT_PAGE,
    'the content of another element and a type',
    defined({ example: undefined, contentReference: '#Observation.subject' }),
  ),
  breaks(
    'eld-5',
    ELEMENT,
    ELEMENT_PAGE,
    'the content of another element and a greatest length',
    defined({ type: undefined, example: undefined, maxLength: 10, contentReference: '#Observation.subject' }),
  ),
  keeps(
    'eld-6',
    ELEMENT_PAGE,
    'a fixed value of one type',
    defined({ type: [{ code: 'string' }], fixedString: 'a' }),
  ),
  breaks(
    'eld-6',
    ELEMENT,
    ELEMENT_PAGE,
    'a fixed value of two types',
    defined({ type: [{ code: 'string' }, { code: 'code' }], fixedString: 'a' }),
  ),
  keeps(
    'eld-7',
    ELEMENT_PAGE,
    'a pattern of one type',
    defined({ type: [{ code: 'Coding' }], patternCoding: { code: 'a' } }),
  ),
  breaks(
    'eld-7',
    ELEMENT,
    ELEMENT_PAGE,
    'a pattern of two types',
    defined({ type: [{ code: 'Coding' }, { code: 'code' }], patternCoding: { code: 'a' } }),
  ),
  keeps(
    'eld-8',
    ELEMENT_PAGE,
    'a fixed value without a pattern',
    defined({ type: [{ code: 'boolean' }], fixedBoolean: false }),
  ),
  breaks(
    'eld-8',
    ELEMENT,
    ELEMENT_PAGE,
    'a fixed value and a pattern',
    defined({ type: [{ code: 'Coding' }], fixedCoding: { code: 'a' }, patternCoding: { code: 'a' } }),
  ),
  keeps(
    'eld-11',
    ELEMENT_PAGE,
    'a binding of a quantity',
    defined({ type: [{ code: 'Quantity' }], binding: { strength: 'example' } }),
  ),
  breaks(
    'eld-11',
    ELEMENT,
    ELEMENT_PAGE,
    'a binding of a boolean',
    defined({ type: [{ code: 'boolean' }], binding: { strength: 'example' } }),
  ),
  keeps(
    'eld-12',
    ELEMENT_PAGE,
    'a value set by URN',
    defined({
      type: [{ code: 'code' }],
      binding: { strength: 'required', valueSet: 'urn:uuid:0b1e2c3d-4f56-4a78-9b0c-1d2e3f4a5b6c' },
    }),
  ),
  breaks(
    'eld-12',
    `${ELEMENT}.binding`,
    ELEMENT_PAGE,
    'a value set by a relative URL',
    defined({ type: [{ code: 'code' }], binding: { strength: 'required', valueSet: 'ValueSet/sides' } }),
  ),
  keeps('eld-13', ELEMENT_PAGE, 'two types', defined({ type: [{ code: 'string' }, { code: 'code' }] })),
  breaks(
    'eld-13',
    ELEMENT,
    ELEMENT_PAGE,
    'one type twice',
    defined({ type: [{ code: 'Reference' }, { code: 'Reference' }] }),
  ),
  keeps(
    'eld-14',
    ELEMENT_PAGE,
    'two rules of two keys',
    defined({
      constraint: [
        { key: 'a-1', ...KEYED },
        { key: 'a-2', ...KEYED },
      ],
    }),
  ),
  breaks(
    'eld-14',
    ELEMENT,
    ELEMENT_PAGE,
    'two rules of one key',
    defined({
      constraint: [
        { key: 'a-1', ...KEYED },
        { key: 'a-1', ...KEYED, severity: 'warning' },
      ],
    }),
  ),
  keeps(
    'eld-15',
    ELEMENT_PAGE,
    'what it means when it is missing',
    defined({ meaningWhenMissing: 'Not known.' }),
  ),
  breaks(
    'eld-15',
    ELEMENT,
    ELEMENT_PAGE,
    'a default, and what it means when it is missing',
    structure({
      'StructureDefinition.derivation': 'specialization',
      [`${ELEMENT}.meaningWhenMissing`]: 'Not known.',
      [`${ELEMENT}.defaultValueString`]: 'a',
    }),
  ),
  keeps('eld-16', ELEMENT_PAGE, 'a slice of a slice', defined({ sliceName: 'left/upper_1@2[x]' })),
  breaks(
    'eld-16',
    ELEMENT,
    ELEMENT_PAGE,
    'a name of a slice with a space',
    defined({ sliceName: 'left upper' }),
  ),
  keeps(
    'eld-17',
    ELEMENT_PAGE,
    'a target of a canonical URL',
    defined({
      type: [{ code: 'canonical', targetProfile: ['http://hl7.org/fhir/StructureDefinition/ValueSet'] }],
    }),
  ),
  breaks(
    'eld-17',
    `${ELEMENT}.type[0]`,
    ELEMENT_PAGE,
    'a target of an identifier',
    defined({
      type: [{ code: 'Identifier', targetProfile: ['http://hl7.org/fhir/StructureDefinition/Patient'] }],
    }),
  ),
  keeps(
    'eld-18',
    ELEMENT_PAGE,
    'a modifier with its reason',
    defined({ isModifier: true, isModifierReason: 'It denies.' }),
  ),
  keeps('eld-18', ELEMENT_PAGE, 'no modifier, without a reason', defined({ isModifier: false })),
  breaks('eld-18', ELEMENT, ELEMENT_PAGE, 'a modifier without its reason', defined({ isModifier: true })),
  keeps('eld-19', ELEMENT_PAGE, 'a path of a choice', defined({ path: 'Observation.value[x]' })),
  breaks('eld-19', ELEMENT, ELEMENT_PAGE, 'a path with a space', defined({ path: 'Observation.sub ject' })),
  breaks('eld-19', ELEMENT, ELEMENT_PAGE, 'a path with a star', defined({ path: 'Observation.sub*' })),
  keeps('eld-20', ELEMENT_PAGE, 'a path of simple names', defined({ path: 'Observation.component.code' })),
  warns(
    'eld-20',
    ELEMENT,
    ELEMENT_PAGE,
    'a path of a name with a hyphen',
    defined({ path: 'Observation.sub-ject' }),
  ),
  keeps('eld-21', ELEMENT_PAGE, 'a rule with its expression', StructureDefinition),
  warns(
    'eld-21',
    `${ELEMENT}.constraint[0]`,
    ELEMENT_PAGE,
    'a rule without an expression',
    defined({ constraint: [{ key: 'a-1', severity: 'error', human: 'A rule.' }] }),
  ),
  keeps(
    'eld-22',
    ELEMENT_PAGE,
    'a named slice that constrains another',
    defined({ sliceName: 'left', sliceIsConstraining: true }),
  ),
  breaks(
    'eld-22',
    ELEMENT,
    ELEMENT_PAGE,
    'no slice, yet it says that it constrains none',
    defined({ sliceIsConstraining: false }),
  ),
];

export const conformanceCases: readonly OtherCase[] = [
  ...capabilityCases,
  ...terminologyCases,
  ...searchCases,
  ...structureCases,
  ...elementCases,
];
