import type { Eye } from '@lensferry/domain';

export interface Point {
  x: number;
  y: number;
}

const RADIANS = Math.PI / 180;

/**
 * A point on a circle at an angle as eye people count it: degrees counter-clockwise from the observer's right, as
 * one faces the eye. Screen coordinates grow downwards.
 */
export function onCircle(centre: Point, radius: number, angleDeg: number): Point {
  return {
    x: centre.x + radius * Math.cos(angleDeg * RADIANS),
    y: centre.y - radius * Math.sin(angleDeg * RADIANS),
  };
}

/** Both ends of a meridian through the centre. */
export function meridian(centre: Point, radius: number, axisDeg: number): [Point, Point] {
  return [onCircle(centre, radius, axisDeg), onCircle(centre, radius, axisDeg + 180)];
}

/** An SVG path along a circle from one angle to another, the way the angles grow or fall. */
export function arcPath(centre: Point, radius: number, fromDeg: number, toDeg: number): string {
  const from = onCircle(centre, radius, fromDeg);
  const to = onCircle(centre, radius, toDeg);
  const large = Math.abs(toDeg - fromDeg) > 180 ? 1 : 0;
  const sweep = toDeg > fromDeg ? 0 : 1;
  return `M ${round(from.x)} ${round(from.y)} A ${radius} ${radius} 0 ${large} ${sweep} ${round(to.x)} ${round(to.y)}`;
}

/** On which side of the picture the nose is, as one faces the patient: a right eye has it on the right. */
export function noseSide(eye: Eye): 'left' | 'right' {
  return eye === 'OD' ? 'right' : 'left';
}

export function round(value: number): number {
  // Adding 0 turns a negative zero into a plain one.
  return Math.round(value * 100) / 100 + 0;
}
