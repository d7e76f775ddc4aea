import * as second from '@solarahealth/fhir-r4';
import { Fhir } from 'fhir';

/** A resource of a bundle, as far as tests look at it. */
export interface FhirResource {
  readonly resourceType: string;
  readonly id: string;
}

/** The second validator's schema of a type of resource. */
export const schemaOf = (type: string) =>
  (
    second as unknown as Record<
      string,
      () => { safeParse(resource: unknown): { success: boolean; error?: Error } }
    >
  )[`create${type}Schema`]!();

/** What two validators that know nothing of each other hold against a bundle; nothing when it is valid. */
export function faultsOf(bundle: {
  readonly resourceType: string;
  readonly entry?: readonly { readonly resource: FhirResource }[];
}): string[] {
  const judged = new Fhir().validate(bundle as never, { errorOnUnexpected: true });
  const faults = judged.messages
    .filter(({ severity }) => severity === 'error')
    .map((message) => JSON.stringify(message));
  if (!judged.valid && faults.length === 0) faults.push('the first validator calls it invalid');
  for (const resource of [bundle, ...(bundle.entry ?? []).map((one) => one.resource)]) {
    const { error } = schemaOf(resource.resourceType).safeParse(resource);
    if (error !== undefined) faults.push(`${JSON.stringify(resource).slice(0, 200)}: ${error.message}`);
  }
  return faults;
}
