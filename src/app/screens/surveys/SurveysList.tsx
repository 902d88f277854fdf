import { useState } from 'react';
import '../../../../styles/surveys.css';
import type { Listed } from '../../../store/survey-store';
import { KeptRow } from './KeptRow';
import type { KeptList } from './use-kept-surveys';

/** With so many they no longer fit a phone's screen; a choice. */
const SEARCHED_FROM = 4;

/** The surveys on this device, those in use before those in the archive. */
export function SurveysList({ listed, holds, again }: KeptList) {
  const [sought, setSought] = useState('');
  const words = sought.trim().toLowerCase();
  const found = listed.filter(({ name }) => name.toLowerCase().includes(words));
  const rows = (surveys: readonly Listed[]) => (
    <ul className="row-list">
      {surveys.map((survey) => (
        <li key={survey.key}>
          <KeptRow survey={survey} holds={holds.get(survey.key)} onChanged={again} />
        </li>
      ))}
    </ul>
  );
  const used = found.filter(({ archivedAt }) => archivedAt === null);
  const archived = found.filter(({ archivedAt }) => archivedAt !== null);
  return (
    <>
      {listed.length >= SEARCHED_FROM && (
        <label className="survey-search">
          <span>Search by name</span>
          <input type="search" value={sought} onChange={(event) => setSought(event.target.value)} />
        </label>
      )}
      {used.length > 0 && rows(used)}
      {found.length === 0 && <p role="status">No survey here has that in its name.</p>}
      {archived.length > 0 && (
        <details className="archived" open={words !== '' || undefined}>
          <summary>In the archive ({archived.length})</summary>
          {rows(archived)}
        </details>
      )}
    </>
  );
}
