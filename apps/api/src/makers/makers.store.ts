/** The purpose that makers' secrets are sealed for. */
export const makerSecretPurpose = (makerId: string): string => `maker-secret:${makerId}`;
