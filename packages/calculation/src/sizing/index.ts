export * from './sizing-eye.js';
export {
  PUBLISHED_VAULT_MODELS,
  missingInputs,
  predictVaultUm,
  requireVaultModel,
  type VaultInput,
  type VaultModel,
} from './vault-model.js';
export * from './vault-bands.js';
export * from './sizing-settings.js';
export { type Reason } from './vault-basis.js';
export { suggestSize, type SizeForecast, type SizeQuestion, type SizeSuggestion } from './suggest-size.js';
export {
  DEFAULT_VAULT_JUDGEMENT,
  judgeVault,
  type JudgedVault,
  type Lighting,
  type VaultJudgement,
  type VaultVisit,
} from './judge-vault.js';
export * from './vault-trend.js';
export {
  exchangeSize,
  type ExchangeForecast,
  type ExchangeQuestion,
  type ExchangeSuggestion,
} from './exchange-size.js';
export {
  companionLengthMm,
  judgeCompanion,
  type CompanionJudgement,
  type CompanionTerms,
  type WayCost,
} from './companion-lens.js';
