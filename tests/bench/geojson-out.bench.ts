import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { encoded } from '../../src/exchange/write/encoded';
import { geojsonText, layerPieces } from '../../src/exchange/write/geojson';
import { buildLayers } from '../../src/exchange/write/layers';
import { bigSurvey } from './appraise.bench';

export interface GeojsonOutBench {
  readonly segments: number;
  /** Bytes a second over those of plain `JSON.stringify` of the same features: as files get them, encoded piece by piece. */
  readonly rate: number;
  /** The same with the bytes kept to the end, as the page hands them to a download. */
  readonly rateKept: number;
}

/** Processor time of the best of some rounds: the machine may be busy with other things. */
function leastCpu(rounds: number, work: () => unknown): number {
  let least = Infinity;
  for (let round = 0; round < rounds; round += 1) {
    const start = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(start);
    least = Math.min(least, user + system);
  }
  return least;
}

/** Segments as GeoJSON text beside `JSON.stringify` of the same features, turn by turn in one run. */
export function benchGeojsonOut(lineCount = 200, rounds = 5): GeojsonOutBench {
  const survey = bigSurvey(lineCount);
  const { segments } = buildLayers(disclose(survey, appraise(survey), 'surveyor'), { drape: 'midpoint' });
  const plainMs = leastCpu(rounds, () => JSON.stringify(segments));
  const keptMs = leastCpu(rounds, () => new Blob([...encoded(layerPieces(segments))]));
  const piecesMs = leastCpu(rounds, () => {
    let bytes = 0;
    for (const piece of encoded(layerPieces(segments))) bytes += piece.length;
    return bytes;
  });
  const share = geojsonText(segments).length / JSON.stringify(segments).length;
  return {
    segments: segments.features.length,
    rate: (share * plainMs) / piecesMs,
    rateKept: (share * plainMs) / keptMs,
  };
}
