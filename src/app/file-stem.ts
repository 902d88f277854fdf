/** A site's name as a file may be called: letters, digits and hyphens, in lower case; `survey` where nothing is left. */
export function fileStem(siteName: string): string {
  const stem = siteName
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return stem || 'survey';
}
