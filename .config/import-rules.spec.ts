import { describe, expect, it } from 'vitest';
import { judgeImport } from './import-rules.mjs';

describe('the import rules', () => {
  it.each([
    ['packages/domain/src/order.ts', '@lensferry/calculation'],
    ['packages/domain/src/order.ts', './case.js'],
    ['packages/calculation/src/optics.spec.ts', 'node:fs'],
    ['apps/api/src/orders/open-order.ts', './orders.store.js'],
    ['apps/api/src/orders/open-order.ts', '../cases/cases.store.js'],
    ['apps/api/src/orders/open-order.ts', '../cases/open-case.js'],
    ['apps/api/src/orders/orders.store.ts', '../platform/prisma-client/client.js'],
    ['apps/admin/src/App.tsx', './orders'],
    ['apps/admin/src/App.tsx', '@lensferry/contracts'],
    ['tests/api/orders.spec.ts', '../../apps/api/src/orders/orders.store.js'],
  ])('lets %s import %s', (file, source) => {
    expect(judgeImport(file, source)).toBeNull();
  });

  it.each([
    ['packages/calculation/src/optics.ts', '@lensferry/domain', /calculation may not import domain/],
    ['packages/contracts/src/order.ts', '../../../apps/api/src/config.js', /contracts may not import api/],
    ['apps/admin/src/App.tsx', '../../api/src/config', /admin may not import api/],
    ['apps/api/src/server.ts', '@lensferry/admin', /api may not import admin/],
    ['apps/api/src/server.ts', '../../../packages/domain/src/index.js', /by its name/],
    ['packages/domain/src/order.ts', 'node:crypto', /runs in browsers/],
    ['packages/domain/src/order.ts', 'fs/promises', /runs in browsers/],
    ['apps/admin/src/App.tsx', 'node:path', /runs in browsers/],
    ['packages/domain/src/order.ts', './case', /\.js suffix/],
    ['apps/api/src/orders/open-order.ts', '@prisma/client', /Prisma is imported only/],
    ['apps/api/src/orders/open-order.ts', '../platform/prisma-client/client.js', /Prisma is imported only/],
  ])('keeps %s from importing %s', (file, source, sentence) => {
    expect(judgeImport(file, source)).toMatch(sentence);
  });
});
