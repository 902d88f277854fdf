import { type FormEvent, useState } from 'react';
import { classesOf, type DiscretionClass, type Showing } from '../../../discretion/classes';
import { sayDiscretionClasses } from '../../../discretion/discretion-edits';
import type { Survey } from '../../../survey/survey';
import { typedNumber } from '../../state/typed-value';
import { useEdit } from '../record/use-edit';
import { AudienceShowing } from './AudienceShowing';

const AUDIENCES = ['keeper', 'planner', 'public'] as const;

function showingWords(showing: Showing): string {
  if (showing.show === 'exact') return 'exactly';
  return showing.show === 'withheld' ? 'not at all' : `by squares of ${showing.grid_m} m`;
}

const classWords = (each: DiscretionClass): string =>
  [
    AUDIENCES.map((who) => `${who} ${showingWords(each[who])}`).join(', '),
    `nothing telling within ${each.protect_radius_m} m`,
    ...(each.cites ? [each.cites] : []),
  ].join('; ');

/** What each class of confidentiality lets each audience see: the keeper's own words, with what asks for it. */
export function ClassesPart({ survey }: { survey: Survey }) {
  const make = useEdit();
  const [changing, setChanging] = useState<DiscretionClass | 'new' | null>(null);
  const read = classesOf(survey);
  const classes = read.ok ? read.value : [];
  const say = (next: readonly DiscretionClass[]) => make((now, author) => sayDiscretionClasses(now, next, author));
  return (
    <>
      <p className="quiet">
        You see everything. Others see a feature by its class: exactly, by the square that it lies in, or not at all.
        Law and the owner’s word are yours to state.
      </p>
      {!read.ok && <p role="alert">{read.sentence}</p>}
      <ul className="row-list">
        {classes.map((each) => (
          <li key={each.name} className="karst-rule">
            <span>
              <strong>{each.name}</strong>: {classWords(each)}
            </span>
            <button type="button" className="line-button" onClick={() => setChanging(each)}>
              Change<span className="unseen"> {each.name}</span>
            </button>
            <button
              type="button"
              className="line-button"
              onClick={() => void say(classes.filter(({ name }) => name !== each.name))}
            >
              Remove<span className="unseen"> {each.name}</span>
            </button>
          </li>
        ))}
      </ul>
      {changing === null ? (
        <button type="button" className="line-button" onClick={() => setChanging('new')}>
          Add a class
        </button>
      ) : (
        <ClassForm
          key={changing === 'new' ? '' : changing.name}
          before={changing === 'new' ? null : changing}
          onCancel={() => setChanging(null)}
          onClass={async (next) => {
            const others = changing === 'new' ? classes : classes.filter(({ name }) => name !== changing.name);
            const refused = await say([...others, next]);
            if (refused === null) setChanging(null);
            return refused;
          }}
        />
      )}
    </>
  );
}

function ClassForm({
  before,
  onClass,
  onCancel,
}: {
  before: DiscretionClass | null;
  onClass: (next: DiscretionClass) => Promise<string | null>;
  onCancel: () => void;
}) {
  const [refused, setRefused] = useState<string | null>(null);
  const submit = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    const said = new FormData(event.currentTarget);
    const text = (name: string): string => String(said.get(name) ?? '').trim();
    const metresOf = (name: string): number => {
      const typed = typedNumber(text(name));
      return typed.ok ? typed.value : Number.NaN;
    };
    const showingOf = (who: string): Showing => {
      const show = text(`${who}-show`);
      return show === 'generalised'
        ? { show, grid_m: metresOf(`${who}-grid`) }
        : { show: show === 'exact' ? 'exact' : 'withheld' };
    };
    const wrong = AUDIENCES.find((who) => {
      const showing = showingOf(who);
      return showing.show === 'generalised' && !(showing.grid_m >= 10 && showing.grid_m <= 100_000);
    });
    const radiusM = metresOf('radius');
    if (text('name') === '') return setRefused('Give the class a name.');
    if (wrong) return setRefused(`Say the squares for the ${wrong}: 10 to 100000, as a plain number of metres.`);
    if (!(radiusM >= 0 && radiusM <= 10_000))
      return setRefused('Say the radius: 0 to 10000, as a plain number of metres.');
    const [keeper, planner, everybody] = AUDIENCES.map(showingOf) as [Showing, Showing, Showing];
    setRefused(
      await onClass({
        ...before,
        name: text('name'),
        keeper,
        planner,
        public: everybody,
        protect_radius_m: radiusM,
        cites: text('cites') || null,
      }),
    );
  };
  return (
    <form className="karst-form" aria-label="A class of confidentiality" onSubmit={(event) => void submit(event)}>
      <label className="karst-field">
        <span>Name of the class</span>
        <input name="name" autoComplete="off" defaultValue={before?.name ?? ''} readOnly={before !== null} />
      </label>
      {AUDIENCES.map((who) => (
        <AudienceShowing key={who} who={who} before={before?.[who] ?? null} />
      ))}
      <label className="karst-field">
        <span>Radius within which other things may give the place away, m</span>
        <input name="radius" inputMode="decimal" autoComplete="off" defaultValue={before?.protect_radius_m ?? ''} />
      </label>
      <label className="karst-field">
        <span>What asks for it (law, the owner’s word)</span>
        <input name="cites" autoComplete="off" defaultValue={before?.cites ?? ''} />
      </label>
      {refused && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
      <div className="karst-buttons">
        <button type="submit" className="line-button strong-button">
          Keep this class
        </button>
        <button type="button" className="line-button" onClick={onCancel}>
          Cancel
        </button>
      </div>
    </form>
  );
}
