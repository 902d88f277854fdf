import { basename, dirname } from 'node:path';
import { appraise } from '../appraise';
import { disclose } from '../discretion/disclose';
import { setbackFeatures } from '../exchange/write/feature-layers';
import { geojsonPieces } from '../exchange/write/geojson';
import { readSetbackRules } from '../karst/setback-rules';
import { type Setback, setbackAreas } from '../karst/setbacks';
import { emptySurvey } from '../survey/empty-survey';
import { faultOf, printable } from './faults';
import { COUNT_OPTIONS, countedOf, placedOf } from './inventory-counted';
import { jsonOf, readDocument, readKeepers } from './inventory-read';
import { parsed } from './options';
import { settingsFor } from './settings-for';
import { writeFiles } from './write-files';

/** `inventory setbacks`: the areas that the user's own rules keep clear. */
export function inventorySetbacks(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    ...COUNT_OPTIONS,
    rules: { type: 'string' },
    out: { type: 'string' },
  });
  if (values.rules === undefined)
    throw faultOf('arguments', '--rules', '', 'a file with your rules: there are no distances of ours');
  const { out } = values;
  if (out === undefined || !/\.geojson$/i.test(out))
    throw faultOf('arguments', '--out', out ?? '', 'a file that ends in .geojson');
  const rules = readSetbackRules(jsonOf(values.rules));
  if (!rules.ok) throw faultOf(values.rules, '1', rules.code, rules.sentence);
  const keepers = readKeepers(positionals, values.columns);
  const counted = countedOf(placedOf(keepers).placed, values);
  const { areas, withoutRule } = setbackAreas(counted.features, rules.value);
  // Only who is in an area is kept of it.
  const setbacks: Pick<Setback, 'rule' | 'features'>[] = [];
  const noted = function* (): Generator<Setback> {
    for (const area of areas) {
      setbacks.push({ rule: area.rule, features: area.features });
      yield area;
    }
  };
  const survey = emptySurvey('inventory', 'Karst inventory');
  const disclosed = disclose(survey, appraise(survey, settingsFor(survey)), 'surveyor');
  const inputs = [...keepers.flatMap((keeper) => keeper.inputs), values.rules];
  writeFiles(dirname(out), [{ name: basename(out), text: geojsonPieces(setbackFeatures(disclosed, noted())) }], inputs);
  const within = setbacks.reduce((sum, { features }) => sum + features.length, 0);
  if (values.json) {
    const document = {
      files: keepers.map(readDocument),
      features: counted.features.length,
      left_out: counted.leftOut,
      without_rule: withoutRule,
      setbacks: setbacks.map(({ rule, features }) => ({ rule, features })),
      file: out,
    };
    print(JSON.stringify(document, null, 2));
  } else {
    print(
      [
        `${setbacks.length} areas round ${within} features; ${withoutRule.length} have no rule.`,
        '  Measured on the ground, each in a transverse Mercator plane of scale 1 about its feature (WGS 84).',
        '  Your rules, not advice: siting belongs to licensed practice and local codes.',
        `${out} written`,
      ]
        .map(printable)
        .join('\n'),
    );
  }
  return 0;
}
