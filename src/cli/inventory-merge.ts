import { basename, dirname } from 'node:path';
import { appraise } from '../appraise';
import { disclose } from '../discretion/disclose';
import { surveyText } from '../exchange/write/survey-text';
import { mergeFeatures } from '../karst/merge';
import { emptySurvey } from '../survey/empty-survey';
import type { LocalGrid, Survey } from '../survey/survey';
import { counted } from '../survey/wording';
import { faultOf, printable } from './faults';
import { type KeeperFile, readDocument, readKeepers, readLines } from './inventory-read';
import { parsed } from './options';
import { settingsFor } from './settings-for';
import { writeFiles } from './write-files';

/** `inventory merge`: one survey with everybody's features. Lines and readings of surveys are not joined here. */
export function inventoryMerge(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    columns: { type: 'string' },
    out: { type: 'string' },
    json: { type: 'boolean' },
  });
  const { out } = values;
  if (out !== undefined && !/\.survey\.json$/i.test(out)) {
    throw faultOf('arguments', '--out', out, 'a file that ends in .survey.json');
  }
  const keepers = readKeepers(positionals, values.columns);
  const merged = mergeFeatures(
    keepers.map(({ path, features, grids }) => ({ keeper: basename(path), features, grids })),
  );
  if (out !== undefined) {
    const survey: Survey = { ...inventorySurvey(keepers), features: merged.features };
    const disclosed = disclose(survey, appraise({ ...survey, features: [] }, settingsFor(survey)), 'surveyor');
    const inputs = keepers.flatMap((keeper) => keeper.inputs);
    writeFiles(dirname(out), [{ name: basename(out), text: surveyText(disclosed) }], inputs);
  }
  if (values.json) {
    const document = {
      files: keepers.map(readDocument),
      features: merged.features.filter(({ retired }) => !retired).length,
      retired: merged.features.filter(({ retired }) => retired).length,
      joined: merged.joined.map(({ id, into, externalId }) => ({ id, into, external_id: externalId })),
      conflicts: merged.conflicts,
      file: out ?? null,
    };
    print(JSON.stringify(document, null, 2));
  } else {
    const lines = [
      ...keepers.flatMap((keeper) => readLines(keeper)),
      `${counted(merged.features.filter(({ retired }) => !retired).length, 'feature')} in all; ${merged.joined.length} joined by their number in one source.`,
      ...merged.conflicts.map(({ sentence }) => `  ${sentence}`),
      ...(out === undefined ? ['Nothing was written: say --out FILE.survey.json.'] : [`${out} written`]),
    ];
    print(lines.map(printable).join('\n'));
  }
  return 0;
}

/** A survey to put features into; grids of one name that differ stop everything, since positions hang on them. */
function inventorySurvey(keepers: readonly KeeperFile[]): Survey {
  const grids = new Map<string, LocalGrid>();
  for (const { path, grids: own } of keepers) {
    for (const grid of own) {
      const before = grids.get(grid.name);
      if (before && JSON.stringify(before) !== JSON.stringify(grid)) {
        throw faultOf(path, '1', grid.name, 'local grids of one name to be one grid. Rename one of them first');
      }
      grids.set(grid.name, grid);
    }
  }
  const empty = emptySurvey('inventory', 'Karst inventory');
  return { ...empty, site: { ...empty.site, local_grids: [...grids.values()] } };
}
