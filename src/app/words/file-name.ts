/** A file name of plain letters, digits and hyphens from whatever its parts are called: "ladder-c-14-m.svg". */
export function fileNameFrom(parts: readonly string[], ending: string): string {
  const plain = parts
    .join(' ')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/(\d)\.(\d)/g, '$1_$2')
    .replace(/[^a-z0-9_]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 80);
  return `${plain || 'figure'}.${ending}`;
}
