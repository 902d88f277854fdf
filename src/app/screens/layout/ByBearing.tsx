import { useState } from 'react';
import { type GivenBearing, trueBearing } from '../../../position/bearings';
import { toLonLat } from '../../../position/crs';
import { done, type Outcome } from '../../../survey/outcome';
import type { NewPathItem } from '../../../survey/path-checks';
import { metres } from '../../../survey/wording';
import { wallDay } from '../../../wall-clock';
import { knownPoints, startsOfLegs } from '../../state/line-points';
import { typedNumber } from '../../state/typed-value';
import { AskForm, type Said } from './AskForm';
import { Field } from './Field';
import type { WayProps } from './PointForm';

const NORTHS: readonly { readonly north: GivenBearing['reference']; readonly words: string }[] = [
  { north: 'magnetic', words: 'compass (magnetic)' },
  { north: 'true', words: 'true north' },
  { north: 'grid', words: 'grid north of a map' },
];

type Leg = Extract<NewPathItem, { kind: 'leg' }>;

function legSaid(said: Said): Outcome<Leg> {
  const named = <T,>(words: string, outcome: Outcome<T>): Outcome<T> =>
    outcome.ok ? outcome : { ...outcome, sentence: `${words}: ${outcome.sentence}` };
  const from = named('From', typedNumber(said('from')));
  const bearing = named('Bearing', typedNumber(said('bearing')));
  const distance = named('Tape', typedNumber(said('distance')));
  const slope = said('slope').trim() === '' ? done(null) : named('Slope', typedNumber(said('slope')));
  if (!from.ok) return from;
  if (!bearing.ok) return bearing;
  if (!distance.ok) return distance;
  if (!slope.ok) return slope;
  const reference = said('north') as GivenBearing['reference'];
  return done({
    kind: 'leg',
    from_chainage_m: from.value,
    bearing_deg: bearing.value,
    bearing_reference: reference,
    distance_m: distance.value,
    ...(slope.value === null ? {} : { slope_deg: slope.value }),
    ...(said('date') === '' ? {} : { date: said('date') }),
  });
}

/** The point lies at a bearing and a taped distance from another point of the line, along the line. */
export function ByBearing({ content, line, points, before, action, onItem, onCancel }: WayProps) {
  const leg = before?.kind === 'leg' ? before : null;
  const starts = startsOfLegs(points.filter(({ item }) => item.id !== before?.id));
  const [from, setFrom] = useState(String(leg?.from_chainage_m ?? starts[0] ?? 0));
  const [distance, setDistance] = useState(leg ? String(leg.distance_m) : '');
  const [begun, taped] = [typedNumber(from), typedNumber(distance)];
  const grids = content.survey.site.local_grids;
  return (
    <AskForm
      label="By bearing and tape"
      action={action}
      onCancel={onCancel}
      onSaid={(said) => {
        const said_ = legSaid(said);
        if (!said_.ok) return said_.sentence;
        const { bearing_deg: bearingDeg, bearing_reference: reference, date } = said_.value;
        const near = knownPoints(line, content.findings, grids)[0];
        const place = near && toLonLat(near.position, grids);
        if (place?.ok) {
          // A bearing that cannot be used is refused before it is written down.
          const crs = near?.position.crs === 'EPSG:4326' ? null : near?.position.crs;
          const usable = trueBearing({ bearingDeg, reference, date, crs }, place.value, { grids });
          if (!usable.ok) return usable.sentence;
        }
        return onItem(said_.value);
      }}
    >
      <label className="lay-field">
        <span>From</span>
        <select name="from" value={from} onChange={(event) => setFrom(event.target.value)}>
          {(starts.length > 0 ? starts : [0]).map((start) => (
            <option key={start} value={start}>
              {metres(start)}
            </option>
          ))}
        </select>
      </label>
      <div className="lay-fields">
        <Field name="bearing" words="Bearing, °" begin={leg ? String(leg.bearing_deg) : ''} />
        <Field name="distance" words="Tape, m" begin={distance} onChange={setDistance} />
        <Field
          name="slope"
          words="Slope, ° (up +)"
          begin={typeof leg?.slope_deg === 'number' ? String(leg.slope_deg) : ''}
        />
      </div>
      <label className="lay-field">
        <span>North of the bearing</span>
        <select name="north" defaultValue={leg?.bearing_reference ?? 'magnetic'}>
          {NORTHS.map(({ north, words }) => (
            <option key={north} value={north}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <Field
        name="date"
        type="date"
        words="Day of the bearing"
        begin={leg?.date?.slice(0, 10) ?? wallDay(new Date())}
      />
      <p role="status" className="quiet">
        {begun.ok && taped.ok && taped.value > 0
          ? `This puts the point at ${metres(begun.value + taped.value)}; the line bends there.`
          : 'The tape runs along the line, away from its start.'}
      </p>
    </AskForm>
  );
}
