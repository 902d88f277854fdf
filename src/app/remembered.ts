/** Small things that the page remembers on this device. A device that refuses to remember is no trouble. */
export type RememberedKey =
  | 'theme'
  | 'cautions_read'
  | 'coordinate_form'
  | 'record_table'
  | 'backdrop'
  | `share.${string}`
  | `view.${string}`
  | `field.${string}`;

export function remembered(key: RememberedKey): string | null {
  try {
    return localStorage.getItem(`hollowline.${key}`);
  } catch {
    return null;
  }
}

export function remember(key: RememberedKey, value: string): void {
  try {
    localStorage.setItem(`hollowline.${key}`, value);
  } catch {
    // Not remembered.
  }
}
