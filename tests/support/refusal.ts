import { CalculationError } from '../../packages/calculation/src/index.js';

/** The typed error that a calculation refuses with; fails when it does not refuse, or in another way. */
export function refusal(run: () => unknown): CalculationError {
  try {
    run();
  } catch (error) {
    if (error instanceof CalculationError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}
