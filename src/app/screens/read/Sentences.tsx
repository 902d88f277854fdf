/** Sentences, one below the other. */
export function Sentences({ sentences }: { sentences: readonly string[] }) {
  return sentences.map((sentence) => <p key={sentence}>{sentence}</p>);
}

/** What a study takes for granted, folded away. */
export function Granted({ sentences }: { sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <details>
      <summary>Assumptions</summary>
      <ul className="plain-list">
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </details>
  );
}
