import { createContext, useContext } from 'react';
import type { KeptPage } from './page-copy';

export const PageContext = createContext<KeptPage | null>(null);

/** The page as this device keeps it. */
export function useKeptPage(): KeptPage {
  const page = useContext(PageContext);
  if (!page) throw new Error('Screens belong inside the app.');
  return page;
}
