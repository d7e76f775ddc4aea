/** What a schema found wrong, as zod and the Standard Schema say it. */
export type Issues = readonly {
  readonly message: string;
  readonly code?: string;
  readonly keys?: readonly string[];
  readonly path?: readonly (PropertyKey | { key: PropertyKey })[] | undefined;
}[];

const most = 50;

/** The fields that are wrong, and how. An unknown field is named itself, not the object that it stands in. */
export function fieldErrors(issues: Issues): { pointer: string; message: string }[] {
  return issues
    .flatMap(({ message, path, code, keys }) => {
      const place = (path ?? [])
        .map((part) => `/${String(typeof part === 'object' ? part.key : part)}`)
        .join('');
      if (code === 'unrecognized_keys' && keys !== undefined)
        return keys.map((key) => ({ pointer: `${place}/${key}`, message: 'There is no such field.' }));
      return [{ pointer: place || '/', message }];
    })
    .slice(0, most);
}
