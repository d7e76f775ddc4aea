import tseslint from 'typescript-eslint';
import house from './import-rules.mjs';

const unused = [
  'error',
  { argsIgnorePattern: '^_', varsIgnorePattern: '^_', caughtErrorsIgnorePattern: '^_' },
];

export default tseslint.config(
  {
    ignores: [
      '**/dist/',
      '**/node_modules/',
      'apps/api/src/platform/prisma-client/',
      'coverage/',
      'tests/output/',
      '.lensferry/',
    ],
  },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  ...tseslint.configs.recommended,
  {
    plugins: { house },
    rules: {
      'house/imports': 'error',
      'max-lines': ['warn', { max: 300 }],
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-console': 'off',
      '@typescript-eslint/no-unused-vars': unused,
      '@typescript-eslint/consistent-type-imports': [
        'error',
        { fixStyle: 'inline-type-imports', disallowTypeAnnotations: false },
      ],
    },
  },
  {
    // A promise nobody waits for loses its error: only the compiler's types can see it.
    files: ['apps/api/src/**/*.ts', 'apps/maker-simulator/src/**/*.ts'],
    ignores: ['**/*.spec.ts'],
    languageOptions: { parserOptions: { projectService: true } },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': 'error',
    },
  },
  {
    // Nest reads parameter types at run time, so an import that looks like types only may not be one.
    files: ['apps/api/src/**/*.ts'],
    rules: { '@typescript-eslint/consistent-type-imports': 'off' },
  },
  { files: ['apps/admin/src/**/*.tsx'], rules: { 'max-lines': ['warn', { max: 120 }] } },
);
