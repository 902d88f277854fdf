import type { SoundingResult } from '../../../studies/sounding';
import type { SoundingInput } from '../../../studies/sounding-input';
import type { AskStudy } from './use-study';
import { type StudyOf, useStudyOf } from './use-study-of';

const ask: AskStudy<SoundingInput, SoundingResult> = (client, input, tick) => client.sounding(input, tick);

/** The study of one ladder, asked for and cancelled by a person; cancelled too when its ladder is left or changes. */
export const useSounding = (input: SoundingInput | null): StudyOf<SoundingResult> => useStudyOf(input, ask);
