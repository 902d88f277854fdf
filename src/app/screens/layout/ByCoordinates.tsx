import { useState } from 'react';
import { readPlaceText, type TextHints } from '../../../position/coordinate-text';
import type { LonLat } from '../../../position/crs';
import type { Position } from '../../../survey/survey';
import type { Content } from '../../state/app-state';
import { typedPlace } from '../../state/typed-place';
import { latLonWords } from '../../words/position-words';
import { AskForm } from './AskForm';
import { Corner } from './Corner';
import { Field } from './Field';
import { fixSaid, isCorner } from './fix-said';
import type { WayProps } from './PointForm';

/** A place of the site, by which half-said coordinates are understood. */
function near({ findings }: Content): LonLat | null {
  const first = findings.lines[0]?.track[0];
  return first ? { lon: first.lon, lat: first.lat } : null;
}

/** A place as it can be typed again. */
function textOf({ x, y, crs, as_entered: entered }: Position): string {
  if (entered && entered.length > 0) return entered.join('; ');
  return crs === 'EPSG:4326' ? `${y}, ${x}` : `${crs.startsWith('grid:') ? '' : `${crs} `}${x} ${y}`;
}

/** The point has coordinates, in any spelling that people use. */
export function ByCoordinates({ content, before, chainageText, action, onItem, onCancel }: WayProps) {
  const was = before?.kind === 'fix' ? before : null;
  const begin = was ? textOf(was.position) : '';
  const accuracyBegin = was?.position.accuracy_level === 95 ? String(was.position.accuracy_m ?? '') : '';
  const grids = content.survey.site.local_grids;
  const crs = was?.position.crs.startsWith('grid:') ? was.position.crs : null;
  const hints: TextHints = { near: near(content), grids, crs };
  const [text, setText] = useState(begin);
  const read = text.trim() === '' ? null : readPlaceText(text, hints);
  return (
    <AskForm
      label="By coordinates"
      action={action}
      onCancel={onCancel}
      onSaid={(said) => {
        // A place that was not typed anew keeps all that was known of it.
        if (was && said('place') === begin && said('accuracy') === accuracyBegin) {
          const { position, singles } = was;
          const same = fixSaid(said, { position, ...(singles ? { singles } : {}) });
          return same.ok ? onItem(same.value) : same.sentence;
        }
        const position = typedPlace(said('place'), said('accuracy'), hints);
        if (!position.ok) return position.sentence;
        const item = fixSaid(said, { position: position.value });
        return item.ok ? onItem(item.value) : item.sentence;
      }}
    >
      <Field name="chainage" words="At, m" begin={chainageText} />
      <Field
        name="place"
        words="Coordinates"
        inputMode="text"
        begin={begin}
        hint="47.51, 10.25 · 47° 30.6' N 10° 15' E · 32 north 593000 5263000 · 32T NT 94141 61486 · EPSG:25832 593000 5263000"
        onChange={setText}
      />
      <p role="status" className="quiet">
        {read?.ok && `Understood as ${latLonWords(read.value.lonLat.lon, read.value.lonLat.lat)}.`}
      </p>
      <Field
        name="accuracy"
        words="Good to, m (95 %)"
        begin={accuracyBegin}
        hint="Left empty it is taken for a phone’s: 10 m."
      />
      <Corner begin={isCorner(before)} />
    </AskForm>
  );
}
