/** The address of a list narrowed by a filter: `/orders?filter=…`. */
export const listAddress = (path: string, filter: Record<string, string>): string =>
  `${path}?filter=${encodeURIComponent(JSON.stringify(filter))}`;
