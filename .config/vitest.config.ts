import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        root: '..',
        test: {
          name: 'unit',
          include: ['packages/**/*.spec.ts', 'apps/**/*.spec.ts', 'tests/published/**/*.spec.ts'],
          exclude: ['**/node_modules/**', '**/dist/**'],
        },
      },
    ],
  },
});
