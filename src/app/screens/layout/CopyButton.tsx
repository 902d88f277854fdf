import { useState } from 'react';

/** Puts text where another program can take it from. */
export function CopyButton({ words, text }: { words: string; text: () => string }) {
  const [said, setSaid] = useState('');
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text());
      setSaid('Copied.');
    } catch {
      setSaid('The browser does not let a page copy here. Select the table and copy it yourself.');
    }
  };
  return (
    <div className="ask-buttons">
      <button type="button" className="line-button" onClick={() => void copy()}>
        {words}
      </button>
      <span role="status">{said}</span>
    </div>
  );
}
