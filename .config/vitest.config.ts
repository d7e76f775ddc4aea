import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        root: fileURLToPath(new URL('..', import.meta.url)),
        test: {
          name: 'unit',
          include: ['packages/**/*.spec.ts', 'apps/**/*.spec.ts', 'tests/published/**/*.spec.ts'],
          exclude: ['**/node_modules/**', '**/dist/**'],
        },
      },
    ],
  },
});
