import { useState } from 'react';
import '../../../../styles/surveys.css';
import { adopt } from '../../adopt';
import { useApp } from '../../app-context';

/** Begins a survey with a name and nothing in it yet, where its first line is laid out. */
export function NewSurvey() {
  const parts = useApp();
  const [name, setName] = useState('');

  const begin = async () => {
    // Loaded when it is asked for: it brings the schema along.
    const { emptySurvey } = await import('../../../survey/empty-survey');
    await adopt(parts, emptySurvey(crypto.randomUUID(), name.trim() || 'New survey'), []);
    parts.store.dispatch({ type: 'margin', margin: 'lay_out' });
  };

  return (
    <details className="kept-more">
      <summary>Begin a survey of your own</summary>
      <form
        className="kept-template"
        onSubmit={(event) => {
          event.preventDefault();
          void begin();
        }}
      >
        <label className="template-name">
          <span>Name of the site</span>
          <input type="text" value={name} onChange={(event) => setName(event.target.value)} />
        </label>
        <p className="row-actions">
          <button type="submit" className="line-button">
            Begin the survey
          </button>
        </p>
      </form>
    </details>
  );
}
