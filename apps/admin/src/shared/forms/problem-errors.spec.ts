import { describe, expect, it } from 'vitest';
import { ApiProblem } from '../../providers/request';
import { placeProblem } from './problem-errors';

const problem = (status: number, errors?: { pointer: string; message: string }[]) =>
  new ApiProblem(status, {
    type: 'about:blank',
    title: 'No',
    status,
    detail: 'Mend this.',
    code: 'x',
    ...(errors ? { errors } : {}),
  });

describe('the errors of an answer', () => {
  it('go to their fields, the others to the head of the form', () => {
    const error = problem(400, [
      { pointer: '/values/axisDeg', message: 'Axis.' },
      { pointer: '/nothing', message: 'Unknown.' },
    ]);
    expect(placeProblem(error, (name) => name === 'values.axisDeg')).toEqual({
      fields: [{ name: 'values.axisDeg', message: 'Axis.' }],
      rest: ['Unknown.'],
      moved: false,
    });
  });

  it('tell when somebody else was faster', () => {
    expect(placeProblem(problem(409), () => false)).toEqual({
      fields: [],
      rest: ['Mend this.'],
      moved: true,
    });
  });
});
