import { useEffect, useState } from 'react';
import type { SetAsideRow } from '../../store/rows';
import { setAsideText } from '../../store/set-aside';
import type { Listed } from '../../store/survey-store';
import { counted } from '../../survey/wording';
import { useApp } from '../app-context';
import { saveFile } from '../save-file';

const FILE = 'set-aside.json';

/** What was found damaged on this device, to be saved to a file. It is not deleted. */
export function SetAsideParts({ listed }: { listed: readonly Pick<Listed, 'key' | 'name'>[] }) {
  const { device } = useApp();
  const [parts, setParts] = useState<readonly SetAsideRow[]>([]);
  // Asked again with the list: what is opened may be found damaged.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the list says when
  useEffect(() => {
    let gone = false;
    device.quarantined().then(
      (found) => !gone && setParts(found),
      () => undefined,
    );
    return () => {
      gone = true;
    };
  }, [device, listed]);
  if (parts.length === 0) return null;
  const names = new Map(listed.map(({ key, name }) => [key, name]));
  const of = [...new Set(parts.map((part) => names.get(part.of) ?? 'a survey'))].join(', ');
  return (
    <p>
      {counted(parts.length, 'damaged part')} of {of} {parts.length === 1 ? 'was' : 'were'} set aside, as found.
      Somebody who knows the file may get something out of it.{' '}
      <button
        type="button"
        className="line-button"
        onClick={() => saveFile(FILE, setAsideText(parts), 'application/json')}
      >
        Save what was set aside
      </button>
    </p>
  );
}
