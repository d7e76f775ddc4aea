import { describe, expect, it } from 'vitest';
import { addressOf } from './pages';

describe('the page of a path', () => {
  it('is found by its address, what is written out before what stands for anything', () => {
    expect(addressOf('/')).toBe('/');
    expect(addressOf('/cases')).toBe('/cases');
    expect(addressOf('/cases/new')).toBe('/cases/new');
    expect(addressOf('/cases/7')).toBe('/cases/:id/:part?');
    expect(addressOf('/cases/7/lenses')).toBe('/cases/:id/:part?');
    expect(addressOf('/cases/7/plan')).toBe('/cases/:id/plan');
    expect(addressOf('/lenses/counts')).toBe('/lenses/counts');
    expect(addressOf('/lenses/counts/7')).toBe('/lenses/counts/:id');
    expect(addressOf('/lenses/7')).toBe('/lenses/:id');
    expect(addressOf('/outcomes')).toBe('/outcomes/:part?/:id?');
    expect(addressOf('/outcomes/results/7')).toBe('/outcomes/:part?/:id?');
  });

  it('is none where there is no such page', () => {
    expect(addressOf('/nowhere')).toBeUndefined();
    expect(addressOf('/cases/7/plan/8')).toBeUndefined();
    expect(addressOf('/orders/7/nothing')).toBeUndefined();
  });
});
