import { useCallback, useEffect, useMemo, useReducer, useRef, useState } from 'react';
import { addReading } from '../../../survey/edits';
import type { ReadingUnit } from '../../../survey/units';
import { UNIT_LABEL } from '../../../survey/units';
import { counted, shownText } from '../../../survey/wording';
import { useApp } from '../../app-context';
import { edit, mayWrite } from '../../edit';
import { expectedAt } from '../../field/expected';
import { type FieldRecord, limitIn, readingFrom, recordedWords, rodsAt, spotOf } from '../../field/field-record';
import { type KeypadKey, NOTHING_ENTERED, reduceKeypad, typedFigure } from '../../field/keypad-state';
import { useLastingStorage } from '../../field/lasting-storage';
import { attemptOn, overRangeSteps } from '../../field/over-range-path';
import { isSameSpot } from '../../field/round';
import { nominalFigureOhmM, thousandfoldSlip } from '../../field/unit-check';
import { useScreenAwake } from '../../field/wake-lock';
import { Photos } from '../../photos/Photos';
import type { Content } from '../../state/app-state';
import { DeviceNotes } from './DeviceNotes';
import { FieldLadder } from './FieldLadder';
import { LastReading, type LastReadingProps } from './LastReading';
import { NoteForm } from './NoteForm';
import { NumberPad } from './NumberPad';
import { OverRange } from './OverRange';
import { PlacePanel } from './PlacePanel';
import { ReadingChips } from './ReadingChips';
import { SaveCopy } from './SaveCopy';
import { SpotHead } from './SpotHead';
import { UnitQuestion } from './UnitQuestion';
import { usePadKeys } from './use-pad-keys';

export interface KeypadProps {
  readonly content: Content;
  readonly record: FieldRecord;
  readonly onSetUp: () => void;
  readonly onTable: () => void;
}

/** A reading is its digits and one tap; everything else is there when it is wanted. */
export function Keypad({ content, record, onSetUp, onTable }: KeypadProps) {
  const parts = useApp();
  const [state, dispatch] = useReducer(reduceKeypad, NOTHING_ENTERED);
  const [noting, setNoting] = useState(false);
  const [placing, setPlacing] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  const awake = useScreenAwake();
  const { lasting, ask } = useLastingStorage();
  const { plan, outing, hookup, unit, line, last, next } = record;

  const spot = state.chosen ?? next;
  const rodCount = useMemo(() => (spot ? rodsAt(record, spot).length : 0), [record, spot]);
  const twoNumbers = unit === 'mV';
  const currentMa = twoNumbers ? typedFigure(state.current) : null;
  const steps = overRangeSteps(outing);
  const path = state.overRange;

  const keep = (value: number | null, as: ReadingUnit = unit, remark = ''): boolean => {
    if (!spot) return false;
    const may = mayWrite(parts);
    if (!may.ok) {
      setRefused(may.sentence);
      return false;
    }
    const attempt = path ? attemptOn(steps, path, rodCount) : null;
    let sentence: string | null = null;
    void edit(parts, (survey, author) => {
      const entry = {
        spot,
        value,
        currentMa,
        unit: as,
        wetting: attempt?.wetting ?? state.wetting,
        reDriven: attempt && attempt.reDriven.length > 0 ? attempt.reDriven : state.reDriven,
        drivenDepthM: state.drivenDepthM,
        meterSpacingM: state.meterSpacingM,
        note: [state.note, attempt?.note, remark].filter(Boolean).join(' '),
        time: author.at,
      };
      const change = addReading(survey, readingFrom(survey, record, entry), crypto.randomUUID(), author);
      if (!change.ok) sentence = change.sentence;
      return change;
    });
    setRefused(sentence);
    if (sentence !== null) return false;
    if (lasting === 'asking') ask();
    setNoting(false);
    return true;
  };

  const keepTyped = () => {
    const value = typedFigure(state.typed);
    if (value === null || !spot) return;
    if (twoNumbers && state.entering === 'value') return dispatch({ type: 'enter', entering: 'current' });
    if (twoNumbers && !currentMa) return;
    const { n, innerSpacingM } = plan;
    const figure = nominalFigureOhmM(value, unit, { hookup, spacingM: spot.spacingM, n, innerSpacingM }, currentMa);
    const slip = figure === null ? null : thousandfoldSlip(figure, expectedAt(content.findings, line.id, hookup, spot));
    if (slip) dispatch({ type: 'ask', question: { value, slip } });
    else if (keep(value)) dispatch({ type: 'kept' });
  };
  const keepOverRange = () => {
    if (!spot || (path && path.step >= steps.length) || !keep(null)) return;
    const on = path ? { step: path.step + 1, done: [...path.done, path.step] } : { step: 0, done: [] };
    dispatch({ type: 'over_range', spot, path: on });
  };
  const onKey = (key: KeypadKey) => {
    setRefused(null);
    dispatch({ type: 'key', key });
  };
  usePadKeys(onKey, keepTyped);

  // A question is read before anything is typed over it.
  const asking = state.question !== null;
  useEffect(() => {
    if (asking && 'vibrate' in navigator) navigator.vibrate(200);
  }, [asking]);

  // What was just kept, and the next step over range, are read from their beginning.
  const middleAt = useRef<HTMLDivElement>(null);
  const lastId = last?.id;
  const pathStep = path?.step;
  // biome-ignore lint/correctness/useExhaustiveDependencies: they say when
  useEffect(() => {
    if (middleAt.current) middleAt.current.scrollTop = 0;
  }, [lastId, pathStep]);

  // A key press changes only the digits: what is said of the last reading is not computed again for it.
  const lastSpot = useMemo(() => (last ? spotOf(last) : null), [last]);
  const again = useCallback(
    (change: Parameters<LastReadingProps['onAgain']>[0]) => {
      if (lastSpot) dispatch({ type: 'again', spot: lastSpot, ...change });
    },
    [lastSpot],
  );
  const repeat = useMemo(() => (spot ? repeatsAt(content, record, spot) : 0), [content, record, spot]);
  const shownStationM = state.typed === '' && !state.chosen && lastSpot ? lastSpot.stationM : spot?.stationM;
  const named = shownStationM !== spot?.stationM;
  const ladder = useMemo(
    () =>
      shownStationM !== undefined && (
        <FieldLadder content={content} record={record} stationM={shownStationM} named={named} />
      ),
    [content, record, shownStationM, named],
  );
  const limit = limitIn(outing, unit);
  const middle = state.question ? (
    <UnitQuestion
      question={state.question}
      unit={unit}
      onKeep={(as, remark) => {
        if (state.question && keep(state.question.value, as, remark)) dispatch({ type: 'kept' });
      }}
      onTypeAgain={() => dispatch({ type: 'ask', question: null })}
    />
  ) : path && spot ? (
    <OverRange
      key={path.step}
      steps={steps}
      path={path}
      saltAllowed={outing.salt_water_allowed === true}
      aboveWords={limit === null ? null : `> ${shownText(limit, unit)}`}
      drivenDepthM={state.drivenDepthM}
      onDepth={(depthM) => dispatch({ type: 'driven_depth', depthM })}
      onSkip={() => dispatch({ type: 'over_range', spot, path: { ...path, step: path.step + 1 } })}
      onLeave={() => dispatch({ type: 'kept' })}
    />
  ) : placing ? (
    <PlacePanel content={content} record={record} spot={spot} onClose={() => setPlacing(false)} />
  ) : noting ? (
    <NoteForm
      note={state.note}
      meterSpacingM={state.meterSpacingM}
      onNote={(note) => dispatch({ type: 'note', note })}
      onMeterSpacing={(spacingM) => dispatch({ type: 'meter_spacing', spacingM })}
      onClose={() => setNoting(false)}
    />
  ) : null;

  return (
    // The keys of the pad are heard wherever the keyboard is, but for buttons: it rests at none of them.
    <div className="keypad" tabIndex={-1} data-focus-home>
      <header className="keypad-head">
        <p>
          <span className="keypad-line">{recordedWords(record)}</span>{' '}
          <span className="keypad-count">
            {record.readCount}/{record.spotCount}
            <span className="unseen"> {counted(record.spotCount, 'spot')} read</span>
          </span>
        </p>
        <button type="button" className="line-button" aria-pressed={placing} onClick={() => setPlacing(!placing)}>
          Go to
        </button>
        <button type="button" className="line-button" onClick={onSetUp}>
          Set up
        </button>
        <button type="button" className="line-button" onClick={onTable}>
          Table
        </button>
      </header>
      {spot && (
        <SpotHead
          record={record}
          spot={spot}
          repeat={repeat}
          meterSpacingM={state.meterSpacingM}
          saidElsewhere={path !== null}
          onChoose={(chosen) => dispatch({ type: 'choose', spot: chosen })}
        />
      )}
      <div ref={middleAt} className="keypad-middle">
        {middle}
        {!spot && (
          <section className="round-done">
            <h2>All spots are read</h2>
            <p>Save a copy before you walk on: a file is the one copy that no browser can delete.</p>
            <SaveCopy content={content} />
            <button type="button" className="line-button strong-button" onClick={onSetUp}>
              Set up the next line
            </button>
            {lastSpot && (
              <button type="button" className="line-button" onClick={() => again({})}>
                Read the last one again
              </button>
            )}
          </section>
        )}
        {last && !middle && (
          <LastReading content={content} record={record} reading={last} at={spot} onAgain={again} ladder={ladder} />
        )}
        {last && !middle && <Photos survey={content.survey} subject={last.id} of="last reading" />}
        {!last && !middle && ladder}
        <DeviceNotes content={content} awake={awake} lasting={lasting} />
      </div>
      {refused !== null && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
      {!path && !state.question && spot && !placing && (
        <ReadingChips
          state={state}
          rodCount={rodCount}
          usual={outing.wetting ?? 'none'}
          canRepeat={lastSpot !== null}
          noting={noting}
          onAgain={() => again({})}
          onWetting={(wetting) => dispatch({ type: 'wetting', wetting })}
          onReDriven={(rod) => dispatch({ type: 're_driven', rod })}
          onNote={() => setNoting(!noting)}
        />
      )}
      {spot && !placing && (
        <NumberPad
          typed={state.typed}
          unit={UNIT_LABEL[unit]}
          current={twoNumbers ? state.current : null}
          entering={state.entering}
          canKeep={typedFigure(state.typed) !== null && (!twoNumbers || state.entering === 'value' || !!currentMa)}
          onEnter={(entering) => dispatch({ type: 'enter', entering })}
          overRangeWords={path === null ? 'Over range' : path.step < steps.length ? 'Still over' : null}
          onKey={onKey}
          onOverRange={keepOverRange}
          onKeep={keepTyped}
        />
      )}
    </div>
  );
}

/** How many readings of this day a spot has already. */
function repeatsAt(
  { survey }: Content,
  { outing, line }: FieldRecord,
  spot: { stationM: number; spacingM: number },
): number {
  return survey.readings.filter((reading) => {
    if (reading.outing !== outing.id || reading.line !== line.id || reading.retired) return false;
    const other = spotOf(reading);
    return other !== null && isSameSpot(other, spot);
  }).length;
}
