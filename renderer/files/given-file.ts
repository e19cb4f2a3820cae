/** The bytes of a file that the user gave to the window. */
import { T } from '../texts/texts.js';

/** Why these files are not read, before a byte of them is; undefined when all is well. */
export function refusal(files: readonly { readonly name: string; readonly size: number }[], limit: number): string | undefined {
  const [file] = files;
  if (files.length > 1) return T.import.oneOnly;
  if (file && file.size > limit) return T.import.tooLarge(file.name, limit / 1024 / 1024);
  return undefined;
}

/** Base64; undefined when the file cannot be read, as when it was moved away meanwhile. */
export function base64Of(file: File): Promise<string | undefined> {
  return new Promise((resolve) => {
    const reader = new FileReader();
    reader.onerror = () => resolve(undefined);
    // `data:…;base64,` stands before the bytes; of an empty file nothing stands behind it.
    reader.onload = () => resolve(String(reader.result).split(',')[1] ?? '');
    reader.readAsDataURL(file);
  });
}
