import { useState } from 'react';

/** Takes the point out; it can be undone, so it is not asked twice. */
export function TakeOut({ onRetire }: { onRetire: () => Promise<string | null> }) {
  const [refused, setRefused] = useState<string | null>(null);
  return (
    <>
      <button type="button" className="line-button" onClick={() => void onRetire().then(setRefused)}>
        Take this out
      </button>
      {refused !== null && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
    </>
  );
}
