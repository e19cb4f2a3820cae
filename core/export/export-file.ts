/** A file of an export, ready to be written. */

/** `name`: without a folder. The chunks are made while they are asked for. */
export type ExportFile = { readonly name: string; chunks(): Iterable<Uint8Array | string> };

export const exportFile = (name: string, bytes: Uint8Array | string): ExportFile => ({ name, chunks: () => [bytes] });
