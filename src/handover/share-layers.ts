import type { Disclosed } from '../discretion/disclose';
import { DICTIONARY_LAYERS, type DictionaryLayer } from '../exchange/write/dictionary';
import { featureLayers, setbackLayer } from '../exchange/write/feature-layers';
import { LAYER_NAMES, type LayerFeature, type LayerName } from '../exchange/write/layer-collection';
import { buildLineLayers, buildSurveyLayers } from '../exchange/write/layers';
import { countedFeatures } from '../karst/counted';
import { placeFeatures } from '../karst/placed';
import { readSetbackRules } from '../karst/setback-rules';
import { setbacksOf } from '../karst/setbacks';
import { done, type Outcome } from '../survey/outcome';

/** A layer of a share. Its features are made when they are asked for: those of a large survey never stand all at once. */
export interface ShareLayer {
  readonly name: DictionaryLayer;
  features(): Iterable<LayerFeature>;
}

/**
 * The layers of a share that hold anything, in the order of the dictionary.
 * Refusals: those of `readSetbackRules` for the survey's own rules.
 */
export function shareLayers(disclosed: Disclosed): Outcome<readonly ShareLayer[]> {
  const { survey } = disclosed;
  const rules = readSetbackRules(survey.site.setback_rules);
  if (!rules.ok) return rules;
  const { placed } = placeFeatures(survey.features, survey.site.local_grids);
  const { setbacks } = setbacksOf(countedFeatures(placed).features, rules.value);
  const karst = { ...featureLayers(disclosed), setbacks: setbackLayer(disclosed, setbacks) };
  const layers = DICTIONARY_LAYERS.map((name): ShareLayer => {
    if (isOfLines(name)) return { name, features: () => ofLines(disclosed, name) };
    const { features } = karst[name];
    return { name, features: () => features as LayerFeature[] };
  });
  return done(layers.filter(holdsAnything));
}

const isOfLines = (name: DictionaryLayer): name is LayerName => (LAYER_NAMES as readonly string[]).includes(name);

function* ofLines(disclosed: Disclosed, name: LayerName): Generator<LayerFeature> {
  const options = { drape: 'midpoint', only: name } as const;
  if (name === 'zones' || name === 'next_readings') yield* buildSurveyLayers(disclosed, options)[name];
  else for (const line of disclosed.findings.lines) yield* buildLineLayers(disclosed, line, options)[name];
}

function holdsAnything({ features }: ShareLayer): boolean {
  for (const _feature of features()) return true;
  return false;
}
