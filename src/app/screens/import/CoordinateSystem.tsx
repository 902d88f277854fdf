import { useState } from 'react';
import type { FileColumns } from '../../../exchange/read/columns';
import type { TablePreview } from '../../../exchange/read/preview';
import { LENGTH_UNITS } from '../../../survey/units';
import { type GridText, gridFrom, gridText } from './grid-text';
import { withConstant, withGrid } from './import-draft';
import { TypedField } from './TypedField';

const UNIT_WORDS = { m: 'metres', km: 'kilometres', ft: 'feet', us_survey_ft: 'US survey feet' } as const;

/** Which system easting and northing are in: a published one by its code, or a grid of the site's own. */
export function CoordinateSystem({
  preview,
  columns,
  onCorrect,
  onGrid,
}: {
  preview: TablePreview;
  columns: FileColumns;
  onCorrect: (columns: FileColumns) => void;
  onGrid: (grid: FileColumns['grid']) => void;
}) {
  const [own, setOwn] = useState<boolean | null>(
    columns.grid ? true : columns.constants?.epsg === undefined ? null : false,
  );
  const headerUnit = preview.columns.find(({ field }) => field === 'easting')?.unit ?? null;
  const [grid, setGrid] = useState<GridText>(() => gridText(columns.grid, headerUnit));
  const change = (what: Partial<GridText>) => {
    const next = { ...grid, ...what };
    setGrid(next);
    onGrid(gridFrom(next));
  };
  const choose = (isOwn: boolean) => {
    setOwn(isOwn);
    onCorrect(isOwn ? withGrid(withConstant(columns, 'epsg', ''), gridFrom(grid)) : withGrid(columns, undefined));
  };
  return (
    <div className="system" data-needed={preview.places.system === 'own_units'}>
      <fieldset className="choices">
        <legend>Easting and northing are counted from where?</legend>
        {[false, true].map((isOwn) => (
          <label key={String(isOwn)} className="chip">
            <input
              type="radio"
              name={`system ${preview.file}`}
              checked={own === isOwn}
              onChange={() => choose(isOwn)}
            />
            <span>{isOwn ? 'from a point of our own' : 'a published system'}</span>
          </label>
        ))}
      </fieldset>
      {own === false && (
        <TypedField
          words="EPSG code, such as 32615 for UTM zone 15 north"
          said={String(columns.constants?.epsg ?? '')}
          numeric
          onSay={(text) => onCorrect(withConstant(columns, 'epsg', text))}
        />
      )}
      {own === true && (
        <>
          <label className="field">
            <span>Counted in</span>
            <select
              value={grid.unit}
              onChange={(event) =>
                change({ unit: LENGTH_UNITS.find((unit) => unit === event.target.value) ?? grid.unit })
              }
            >
              {LENGTH_UNITS.map((unit) => (
                <option key={unit} value={unit}>
                  {UNIT_WORDS[unit]}
                </option>
              ))}
            </select>
          </label>
          <p className="quiet">
            Where easting 0, northing 0 lies. If you do not know, a place nearby will do: the shape is right all the
            same, its place on the Earth only as good as this point.
          </p>
          <TypedField words="Latitude there (°)" said={grid.lat} numeric onSay={(lat) => change({ lat })} />
          <TypedField
            words="Longitude there (°, west is negative)"
            said={grid.lon}
            numeric
            onSay={(lon) => change({ lon })}
          />
          <TypedField
            words="Northing points to (° from true north)"
            said={grid.bearing}
            numeric
            onSay={(bearing) => change({ bearing })}
          />
        </>
      )}
    </div>
  );
}
