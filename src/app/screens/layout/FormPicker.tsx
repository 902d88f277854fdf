import { useState } from 'react';
import { COORDINATE_FORMS, type CoordinateForm } from '../../../position/coordinate-format';
import { crsOf } from '../../../position/crs';
import { useApp, useAppState } from '../../app-context';
import { remember } from '../../remembered';

const WORDS: Record<(typeof COORDINATE_FORMS)[number], string> = {
  decimal_degrees: 'degrees (47.51234)',
  degrees_minutes: 'degrees and minutes',
  degrees_minutes_seconds: 'degrees, minutes, seconds',
  utm: 'UTM',
  mgrs: 'MGRS',
};

/** The form in which places are shown, on this device. */
export function FormPicker() {
  const { store } = useApp();
  const form = useAppState(({ layout }) => layout.coordinateForm);
  const isCode = form.startsWith('EPSG:');
  const [code, setCode] = useState(isCode ? form.slice(5) : '');
  const [byCode, setByCode] = useState(isCode);
  const choose = (coordinateForm: CoordinateForm) => {
    remember('coordinate_form', coordinateForm);
    store.dispatch({ type: 'layout', layout: { coordinateForm } });
  };
  const crs = byCode && code !== '' ? crsOf(`EPSG:${code}`) : null;
  return (
    <div className="form-picker">
      <label className="lay-field">
        <span>Coordinates as</span>
        <select
          value={byCode ? 'code' : form}
          onChange={({ target: { value } }) => {
            setByCode(value === 'code');
            if (value !== 'code') choose(value as CoordinateForm);
          }}
        >
          {COORDINATE_FORMS.map((each) => (
            <option key={each} value={each}>
              {WORDS[each]}
            </option>
          ))}
          <option value="code">another system, by its EPSG code</option>
        </select>
      </label>
      {byCode && (
        <label className="lay-field">
          <span>EPSG code</span>
          <input
            type="text"
            inputMode="numeric"
            autoComplete="off"
            value={code}
            onChange={({ target: { value } }) => {
              const typed = value.replace(/\D/g, '').slice(0, 6);
              setCode(typed);
              if (crsOf(`EPSG:${typed}`).ok) choose(`EPSG:${Number(typed)}`);
            }}
          />
          <span className="quiet" role="status">
            {crs ? (crs.ok ? crs.value.name : crs.sentence) : 'For example 25832.'}
          </span>
        </label>
      )}
    </div>
  );
}
