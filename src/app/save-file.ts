/** Hands a text to the browser's download as a file of UTF-8 bytes. Gives the number of bytes. */
export function saveFile(name: string, text: string, mediaType: string): number {
  const file = new Blob([text], { type: mediaType });
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken hold of the bytes by the time it comes back to us.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
  return file.size;
}
