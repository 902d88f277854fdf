import type { LineFindings } from '../../findings';
import { polePoleRemoteError } from '../../ground/finite-remotes';
import { geodesicDistanceM } from '../../position/geodesic';
import { NO_REMOTES, remotesOf } from '../../position/remotes';
import type { Survey } from '../../survey/survey';
import { metres, significant } from '../../survey/wording';

/**
 * What two remotes at a distance cost a pole-pole reading over uniform ground when they are taken as infinitely far, as a
 * sentence. Both ways of setting them out are told: in line with the probes, and square off to either side.
 */
export function remoteCostWords(spacingM: number, remoteM: number): string {
  const shares = [
    polePoleRemoteError(spacingM, remoteM, 'in_line'),
    polePoleRemoteError(spacingM, remoteM, 'square_off'),
  ];
  const percent = shares.map((share) => significant(Math.abs(share) * 100, 2));
  const low = percent[0] === percent[1] ? percent[0] : `${percent[0]} to ${percent[1]}`;
  return `With both remotes ${metres(remoteM)} away, a pole-pole reading at a = ${metres(spacingM)} over uniform ground comes out ${low} % too low if they are taken as infinitely far.`;
}

export interface OutingRemotes {
  readonly outing: string;
  /** From the nearest electrode of the line to the nearest remote. */
  readonly nearestM: number;
}

/** How far the remotes of each outing that read on a line stood from it. */
export function remotesBeside(survey: Survey, { electrodes, outings }: LineFindings): readonly OutingRemotes[] {
  return survey.outings.flatMap((outing): OutingRemotes[] => {
    if (outing.retired || !outings.includes(outing.id)) return [];
    const remotes = { ...NO_REMOTES, ...remotesOf(outing, survey.site.local_grids) };
    const places = [remotes.a, remotes.b, remotes.m, remotes.n].filter((place) => place !== null);
    const onLine = electrodes.filter(({ chainageM }) => chainageM !== null);
    // The ends are farthest out or nearest, up to half an electrode step.
    const apart = places.flatMap((place) => onLine.map((electrode) => geodesicDistanceM(electrode, place)));
    return apart.length > 0 ? [{ outing: outing.name, nearestM: Math.min(...apart) }] : [];
  });
}
