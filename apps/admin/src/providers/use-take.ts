import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useDataProvider, useNotify } from 'react-admin';
import type { LensferryDataProvider } from './data-provider';

export interface TakeOptions<Answer> {
  /** The record that the answer is, to show at once what the server said. */
  answers?: 'cases' | 'orders' | 'lenses' | 'returns';
  /** What to say when it is done: a key of the dictionary. */
  done?: string;
  onDone?: (answer: Answer) => void;
}

let earlier: Promise<unknown> = Promise.resolve();

/** Steps taken one soon after the other are told in that order, whichever screen is read again first. */
function inTurn(work: Promise<unknown>): Promise<unknown> {
  return (earlier = Promise.all([work, earlier]));
}

/** Takes a step and waits for the server; everything on screen is read again afterwards. */
export function useTake<Answer extends { id: string }>(path: string, options: TakeOptions<Answer> = {}) {
  const data = useDataProvider<LensferryDataProvider>();
  const queries = useQueryClient();
  const notify = useNotify();
  return useMutation<Answer, Error, unknown>({
    mutationFn: (body) => data.take<Answer>(path, body),
    onSuccess: async (answer) => {
      if (options.answers)
        queries.setQueryData([options.answers, 'getOne', { id: answer.id, meta: undefined }], answer);
      // First everything on screen, then what follows: nobody is led on to a state that has just passed.
      await inTurn(queries.invalidateQueries());
      if (options.done) notify(options.done, { type: 'success' });
      options.onDone?.(answer);
    },
  });
}
