/** Whether this browser can give a text to another program of the device. Only in a page that came safely (HTTPS). */
export function canShareText(): boolean {
  try {
    return navigator.canShare?.({ files: [textFile('a.txt', '')] }) === true;
  } catch {
    return false;
  }
}

/**
 * Gives a text to another program, as a person chooses it in the device's own sheet. False when they thought better of
 * it. The name has to end in `.txt`: a share sheet takes few kinds of files, and JSON is not among them (MDN,
 * Navigator.share, "shareable file types").
 */
export async function shareText(name: string, text: string): Promise<boolean> {
  try {
    await navigator.share({ files: [textFile(name, text)] });
    return true;
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return false;
    throw error;
  }
}

const textFile = (name: string, text: string): File => new File([text], name, { type: 'text/plain' });
