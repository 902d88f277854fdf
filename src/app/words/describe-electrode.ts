import type { ElectrodeFinding } from '../../findings';
import { counted, metres } from '../../survey/wording';
import type { Told } from './describe-reading';
import { lineWords } from './line-words';
import { latLonWords, radiusWords } from './position-words';

export interface ElectrodeTold {
  readonly title: string;
  readonly verdict: string;
  readonly rows: readonly Told[];
}

const VERDICT: Record<ElectrodeFinding['role'], string> = {
  probe: 'A probe stood here',
  remote: 'A remote electrode stood here',
  planned: 'Planned: nothing read here yet',
};

export function describeElectrode(electrode: ElectrodeFinding, lineName: string): ElectrodeTold {
  const rows: Told[] = [
    { term: 'Took part in', words: counted(electrode.readingCount, 'reading') },
    {
      term: 'Position',
      words: `${latLonWords(electrode.lon, electrode.lat)}, ${radiusWords(electrode.uncertainty95M)}`,
    },
  ];
  if (electrode.elevationM !== null) rows.push({ term: 'Height', words: metres(electrode.elevationM) });
  const { chainageM, remoteRole, role } = electrode;
  const name = remoteRole ? `remote electrode ${remoteRole.toUpperCase()}` : `electrode ${metres(chainageM ?? 0)}`;
  return { title: `${lineWords(lineName)}, ${name}`, verdict: VERDICT[role], rows };
}
