import type { Import, ImportSession } from './use-import';

/** Where the files go: a survey of their own, or the one that is open. */
export function TargetChoice({
  session,
  bringing,
  hasOpen,
}: {
  session: ImportSession;
  bringing: Import;
  hasOpen: boolean;
}) {
  return (
    <section aria-labelledby="target-head">
      <h3 id="target-head">Where it goes</h3>
      {hasOpen && (
        <fieldset className="choices">
          <legend className="unseen">Where it goes</legend>
          {[false, true].map((intoOpen) => (
            <label key={String(intoOpen)} className="chip">
              <input
                type="radio"
                name="import-target"
                checked={session.intoOpen === intoOpen}
                onChange={() => bringing.aim(intoOpen)}
              />
              <span>{intoOpen ? 'into the open survey' : 'a new survey'}</span>
            </label>
          ))}
        </fieldset>
      )}
      {session.intoOpen ? (
        <p className="quiet">
          Lines, outings and readings are matched by name and place: what is there already is not doubled.
        </p>
      ) : (
        <label className="field">
          <span>Name of the site</span>
          <input
            type="text"
            value={session.siteName}
            autoComplete="off"
            onChange={(event) => bringing.nameSite(event.target.value)}
          />
        </label>
      )}
    </section>
  );
}
