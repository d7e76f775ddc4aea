/** A page of another site can't add this header, so a write with it came from our own pages. */
export const ownHeader = 'x-lensferry';
