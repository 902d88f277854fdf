import { saveFile } from './save-file';

/** What browsers that can ask for a place offer; not in the type library. */
interface SavePicker {
  showSaveFilePicker(options: {
    suggestedName: string;
    types: { description: string; accept: Record<string, string[]> }[];
  }): Promise<{
    readonly name: string;
    createWritable(): Promise<{ write(content: string | Blob): Promise<void>; close(): Promise<void> }>;
  }>;
}

export interface Saved {
  /** The name that the file has got. */
  readonly name: string;
  readonly bytes: number;
}

export interface Saving {
  readonly name: string;
  readonly mediaType: string;
  /** Made only once a place is chosen. */
  readonly content: () => Promise<string | Blob>;
}

/** Whether this browser can ask for a name and a place. */
export const canAskForPlace = (): boolean => 'showSaveFilePicker' in window;

/**
 * Saves a file: where a person says (asked first, while the click still counts), or among the downloads.
 * Null when they thought better of it.
 */
export async function savePlaced({ name, mediaType, content }: Saving, ask: boolean): Promise<Saved | null> {
  if (!ask || !canAskForPlace()) return { name, bytes: saveFile(name, await content(), mediaType) };
  const ending = name.slice(name.lastIndexOf('.'));
  try {
    const picker = window as unknown as SavePicker;
    const file = await picker.showSaveFilePicker({
      suggestedName: name,
      types: [{ description: mediaType, accept: { [mediaType]: [ending] } }],
    });
    const written = await content();
    const stream = await file.createWritable();
    await stream.write(written);
    await stream.close();
    return { name: file.name, bytes: new Blob([written]).size };
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return null;
    throw error;
  }
}
