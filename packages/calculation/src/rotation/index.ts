export {
  bestRotation,
  DEFAULT_ROTATION_SETTINGS,
  type BestRotation,
  type RotationQuestion,
  type RotationSettings,
} from './best-rotation.js';
export {
  exchangePower,
  explainSurprise,
  type ExchangePower,
  type ExplainedSurprise,
  type SurpriseQuestion,
} from './exchange-power.js';
export { misplacedCylinderD } from './misplaced-cylinder.js';
