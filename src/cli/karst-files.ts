import type { Disclosed } from '../discretion/disclose';
import { featureLayers, setbackLayer } from '../exchange/write/feature-layers';
import { layerPieces } from '../exchange/write/geojson';
import { countedFeatures } from '../karst/counted';
import { placeFeatures } from '../karst/placed';
import { readSetbackRules } from '../karst/setback-rules';
import { setbacksOf } from '../karst/setbacks';
import { faultOf } from './faults';
import type { OutputFile } from './write-files';

/** The karst features of a survey as layers, and the setbacks that its own rules keep clear. */
export function karstFiles(disclosed: Disclosed): readonly OutputFile[] {
  const { survey } = disclosed;
  const rules = readSetbackRules(survey.site.setback_rules);
  if (!rules.ok) throw faultOf('site.setback_rules', '', '', rules.sentence);
  const { placed } = placeFeatures(survey.features, survey.site.local_grids);
  const { setbacks } = setbacksOf(countedFeatures(placed).features, rules.value);
  const layers = { ...featureLayers(disclosed), setbacks: setbackLayer(disclosed, setbacks) };
  return Object.entries(layers).map(([name, layer]) => ({ name: `${name}.geojson`, text: layerPieces(layer) }));
}
