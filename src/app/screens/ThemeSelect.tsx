import { useApp, useAppState } from '../app-context';
import { remember } from '../remembered';
import type { ThemeChoice } from '../state/app-state';
import { themeChoice } from '../theme';

const CHOICES: readonly { readonly choice: ThemeChoice; readonly name: string }[] = [
  { choice: 'device', name: 'As the device' },
  { choice: 'light', name: 'Light' },
  { choice: 'dark', name: 'Dark' },
  { choice: 'sunlight', name: 'Sunlight' },
];

export function ThemeSelect() {
  const { store } = useApp();
  const theme = useAppState((state) => state.theme);
  return (
    <label className="theme-select">
      <span className="unseen">Colours</span>
      <select
        value={theme}
        onChange={(event) => {
          const chosen = themeChoice(event.target.value);
          remember('theme', chosen);
          store.dispatch({ type: 'theme', theme: chosen });
        }}
      >
        {CHOICES.map(({ choice, name }) => (
          <option key={choice} value={choice}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}
