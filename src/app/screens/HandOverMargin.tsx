import { lazy, Suspense, useState } from 'react';
import { disclose } from '../../discretion/disclose';
import type { LayerName } from '../../exchange/write/layer-collection';
import { counted } from '../../survey/wording';
import { useApp, useAppState } from '../app-context';
import { fileStem } from '../file-stem';
import { canAskForPlace, type Saving, savePlaced } from '../save-placed';
import type { Content } from '../state/app-state';
import { ShareCopy } from './field/ShareCopy';
import { KeptSurveys } from './KeptSurveys';
import { SaveRow } from './SaveRow';
import { TableFiles } from './TableFiles';

// Loaded after the margin: few visits make a pack.
const ShareSection = lazy(async () => ({ default: (await import('./handover/ShareSection')).ShareSection }));

const LAYER_WORDS: Record<LayerName, string> = {
  lines: 'the survey lines',
  controls: 'the places that were measured in',
  electrodes: 'where every electrode stood',
  midpoints: 'one point for each place and spacing, with all its numbers',
  segments: 'the coloured stretches of line',
  corridors: 'how far to the side the stated target would have shown',
  zones: 'where neighbouring readings stand out together, with what can cause it',
  next_readings: 'the few readings that would tell most',
};

const LAYERS = Object.keys(LAYER_WORDS) as LayerName[];

/** The survey as files. */
export function HandOverMargin({ content }: { content: Content }) {
  const { store, client } = useApp();
  const drape = useAppState((state) => state.drape);
  const layers = useAppState((state) => state.drawn?.layers);
  const [ask, setAsk] = useState(false);
  const [said, setSaid] = useState('');

  const save = async (saving: Saving) => {
    try {
      const saved = await savePlaced(saving, ask);
      if (saved) setSaid(`${saved.name} saved, ${Math.ceil(saved.bytes / 1000)} kB.`);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      store.dispatch({ type: 'trouble', sentence: `${saving.name} could not be written: ${reason}` });
    }
  };

  const surveyName = `${fileStem(content.survey.site.name)}.survey.json`;
  const documentText = async () => {
    const { surveyText } = await import('../../exchange/write/survey-text');
    return surveyText(disclose(content.survey, content.findings, 'surveyor'));
  };

  return (
    <>
      <p className="opening">
        Your own copies: they hold every place exactly. Nothing leaves this device but what you save here.
      </p>
      {canAskForPlace() && (
        <label className="ask-place">
          <input type="checkbox" checked={ask} onChange={(event) => setAsk(event.target.checked)} />
          <span>Ask for a name and a place each time</span>
        </label>
      )}
      <p role="status">{said}</p>
      <section aria-labelledby="survey-head">
        <h2 id="survey-head">Survey</h2>
        <ul className="row-list">
          <SaveRow
            name={surveyName}
            words="everything: what was entered, the edits, the settings; opens here and on the command line"
            onSave={() => void save({ name: surveyName, mediaType: 'application/json', content: documentText })}
          />
        </ul>
        <ShareCopy content={content} />
        <TableFiles content={content} onSave={(saving) => void save(saving)} />
      </section>
      <Suspense fallback={null}>
        <ShareSection content={content} />
      </Suspense>
      <KeptSurveys />
      <section aria-labelledby="layers-head">
        <h2 id="layers-head">Layers</h2>
        <p>GeoJSON in WGS 84, for any map program.</p>
        <ul className="row-list">
          {LAYERS.map((name) => (
            <SaveRow
              key={name}
              name={`${name}.geojson`}
              words={`${LAYER_WORDS[name]}; ${counted(layers?.[name].features.length ?? 0, 'feature')}`}
              onSave={() =>
                void save({
                  name: `${name}.geojson`,
                  mediaType: 'application/geo+json',
                  content: () => client.layerFile(name, drape),
                })
              }
            />
          ))}
        </ul>
        <p>
          Evidence for a hazard map, not a hazard map: no layer states a hazard class, and a gap is not safe ground.
        </p>
        {content.survey.site.invented && <p>The site is invented. Nothing in these files is a real place.</p>}
        <p className="quiet">
          The same bytes as the command line writes: hollowline map SURVEY --out DIR
          {drape === 'probes' && ' --drape probes'}
        </p>
      </section>
    </>
  );
}
