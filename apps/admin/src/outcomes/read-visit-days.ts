/** Days as somebody types them, `1, 7, 30`; a word among them stays a word, for the contract to refuse. */
export const readVisitDays = (text: string): unknown[] =>
  text
    .split(/[\s,;]+/)
    .filter((part) => part !== '')
    .map((part) => (/^\d+$/.test(part) ? Number(part) : part));
