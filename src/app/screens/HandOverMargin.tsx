import { useState } from 'react';
import type { LayerName } from '../../exchange/write/layers';
import { counted } from '../../survey/wording';
import { useApp, useAppState } from '../app-context';
import { saveFile } from '../save-file';
import type { Content } from '../state/app-state';

const LAYER_WORDS: Record<LayerName, string> = {
  lines: 'the survey lines',
  controls: 'the places that were measured in',
  electrodes: 'where every electrode stood',
  midpoints: 'one point for each place and spacing, with all its figures',
  segments: 'the coloured stretches of line',
  corridors: 'how far to the side the stated target would have shown',
};

const LAYERS = Object.keys(LAYER_WORDS) as LayerName[];

/** The survey as files. */
export function HandOverMargin({ content }: { content: Content }) {
  const { store, client } = useApp();
  const drape = useAppState((state) => state.drape);
  const [said, setSaid] = useState('');

  const save = async (name: LayerName) => {
    try {
      const text = await client.layerText(name, drape);
      const bytes = saveFile(`${name}.geojson`, text, 'application/geo+json');
      setSaid(`${name}.geojson saved, ${Math.ceil(bytes / 1000)} kB.`);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      store.dispatch({ type: 'trouble', sentence: `${name}.geojson could not be written: ${reason}` });
    }
  };

  return (
    <>
      <p className="opening">GeoJSON layers in WGS 84. Your own copy: it holds every place exactly.</p>
      <section aria-labelledby="layers-head">
        <h2 id="layers-head">Layers</h2>
        <ul className="row-list">
          {LAYERS.map((name) => (
            <li key={name}>
              <button type="button" className="row-button" onClick={() => void save(name)}>
                <span className="row-words">
                  <span className="row-place">{name}.geojson</span>
                  <span className="row-verdict">
                    {LAYER_WORDS[name]}; {counted(content.layers[name].features.length, 'feature')}
                  </span>
                </span>
              </button>
            </li>
          ))}
        </ul>
        <p role="status">{said}</p>
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
