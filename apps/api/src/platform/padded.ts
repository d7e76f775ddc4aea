/**
 * Identifiers for an `in`, the first one repeated up to the next power of two. A list of another length is another
 * statement, to be written and planned anew; so there are only a few of them.
 */
export function padded<Id>(ids: readonly Id[]): Id[] {
  const [first] = ids;
  if (first === undefined) return [];
  const length = 2 ** Math.ceil(Math.log2(ids.length));
  return [...ids, ...Array<Id>(length - ids.length).fill(first)];
}
