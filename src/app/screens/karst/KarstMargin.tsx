import { useEffect, useRef } from 'react';
import '../../../../styles/import.css';
import '../../../../styles/karst.css';
import { featuresWords } from '../../../karst/feature-words';
import type { Feature } from '../../../survey/survey';
import { useApp, useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';
import { HistoryButtons } from '../record/HistoryButtons';
import { BringFeatures } from './BringFeatures';
import { ClassesPart } from './ClassesPart';
import { DensityPart } from './DensityPart';
import { FeatureCard } from './FeatureCard';
import { FeatureList } from './FeatureList';
import { KarstLayers } from './KarstLayers';
import { KarstPart } from './KarstPart';
import { MatchPart } from './MatchPart';
import { MeasurePart } from './MeasurePart';
import { SetbackPart } from './SetbackPart';
import { useBringFeatures } from './use-bring-features';
import { ZonesPart } from './ZonesPart';

/** The karst inventory: what is known on the ground, brought together from everybody who wrote it down. */
export function KarstMargin({ content }: { content: Content }) {
  const { store } = useApp();
  const selection = useAppState((state) => state.selection);
  const bringing = useBringFeatures();
  const input = useRef<HTMLInputElement>(null);
  const cameFrom = useRef<HTMLElement | null>(null);
  const { survey } = content;
  const feature = selection?.kind === 'feature' ? survey.features.find(({ id }) => id === selection.sid) : undefined;
  const open = (id: Feature['id']): void => {
    if (document.activeElement instanceof HTMLElement) cameFrom.current = document.activeElement;
    store.dispatch({ type: 'select', selection: { kind: 'feature', sid: id } });
  };
  // The keyboard goes back to where it was when the card is put away.
  const isOpen = feature !== undefined;
  useEffect(() => {
    if (isOpen) return;
    cameFrom.current?.focus();
    cameFrom.current = null;
  }, [isOpen]);
  const standing = survey.features.filter(({ retired }) => !retired).length;
  const isBringing = bringing.state !== null;
  return (
    <div className="karst">
      {feature && (
        <FeatureCard
          key={feature.id}
          content={content}
          feature={feature}
          onClose={() => store.dispatch({ type: 'select', selection: null })}
          onZone={(sid) => store.dispatch({ type: 'select', selection: { kind: 'zone', sid } })}
        />
      )}
      <div hidden={isOpen}>
        <div className="karst-top">
          <button type="button" className="line-button strong-button" onClick={() => input.current?.click()}>
            Bring in features
          </button>
          <HistoryButtons />
          <input
            ref={input}
            type="file"
            hidden
            accept=".geojson,.json,.csv,.tsv,.txt,.dsv,.kml,.gpx,.zip,.kmz"
            aria-label="A file of karst features"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              if (file) void bringing.begin(file);
              // The same file may be picked again after it was mended.
              event.currentTarget.value = '';
            }}
          />
        </div>
        {bringing.done && <p role="status">{bringing.done}</p>}
        {isBringing && <BringFeatures work={bringing} />}
        <div hidden={isBringing}>
          <p className="opening">
            {standing === 0
              ? 'Nothing is in the inventory yet. Bring in a GeoJSON, CSV or TSV, KML, GPX or zipped shapefile, or send a zone here.'
              : `${featuresWords(standing)} in the inventory.`}
          </p>
          {survey.features.length > 0 && <FeatureList features={survey.features} onOpen={open} />}
          {standing > 0 && <KarstLayers survey={survey} />}
          {standing > 1 && (
            <KarstPart name="Likely duplicates">
              <MatchPart survey={survey} onOpen={open} />
            </KarstPart>
          )}
          {standing > 0 && (
            <>
              <KarstPart name="Neighbours and long axes">
                <MeasurePart survey={survey} />
              </KarstPart>
              <KarstPart name="Density">
                <DensityPart survey={survey} />
              </KarstPart>
            </>
          )}
          <KarstPart name="Setbacks">
            <SetbackPart survey={survey} />
          </KarstPart>
          <KarstPart name="Zones of this survey">
            <ZonesPart content={content} onOpen={open} />
          </KarstPart>
          <KarstPart name="What each class may show">
            <ClassesPart survey={survey} />
          </KarstPart>
        </div>
      </div>
    </div>
  );
}
