import { DEFINITIONS } from '../../../karst/definitions';
import { FEATURE_TYPES, type FeatureType } from '../../../survey/feature-type';

/** Which features a rule speaks of. */
export function ruleTypeWords(type: string): string {
  if (type === 'any') return 'Any feature';
  if (type === 'sinkhole') return 'Sinkholes of every kind';
  return (FEATURE_TYPES as readonly string[]).includes(type) ? DEFINITIONS[type as FeatureType].label : type;
}
