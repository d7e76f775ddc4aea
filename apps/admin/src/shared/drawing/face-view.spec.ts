import { describe, expect, it } from 'vitest';
import { arcPath, meridian, noseSide, onCircle } from './face-view';

const centre = { x: 100, y: 100 };

describe('the face view', () => {
  it('counts degrees counter-clockwise from the right, with 90 at the top', () => {
    expect(onCircle(centre, 50, 0)).toEqual({ x: 150, y: 100 });
    expect(onCircle(centre, 50, 90).y).toBeCloseTo(50);
    expect(onCircle(centre, 50, 270).y).toBeCloseTo(150);
  });

  it('draws a meridian through the centre', () => {
    const [a, b] = meridian(centre, 50, 32);
    expect(a.x + b.x).toBeCloseTo(200);
    expect(a.y).toBeLessThan(100);
    expect(a.x).toBeGreaterThan(100);
  });

  it('has the nose on the right of a right eye and on the left of a left eye', () => {
    expect(noseSide('OD')).toBe('right');
    expect(noseSide('OS')).toBe('left');
  });

  it('draws an arc counter-clockwise when the angle grows', () => {
    expect(arcPath(centre, 50, 0, 90)).toBe('M 150 100 A 50 50 0 0 0 100 50');
    expect(arcPath(centre, 50, 90, 0)).toBe('M 100 50 A 50 50 0 0 1 150 100');
  });
});
