import { DomainError } from '@lensferry/domain';
/** A page of another site can't add this header, so a write with it came from our own pages. */
export const ownHeader = 'x-lensferry';

/** @throws DomainError `request.foreign` for a write that lacks the header. */
export function requireOwnHeader(request: { readonly headers: Record<string, unknown> }): void {
  if (request.headers[ownHeader] !== undefined) return;
  throw new DomainError('forbidden', 'request.foreign', `Send the header ${ownHeader} with every change.`);
}

/** What signing in answers when the password was right and a code is needed as well. */
export const codeNeeded = 'Write the code of your authenticator too.';
