/** WAV files (RIFF, PCM, one channel of 16 bits): a header of fixed size, then the samples as they come. */

export const HEADER_BYTES = 44;

/** A RIFF file counts its bytes in 32 bits. */
export const MOST_SAMPLES = Math.floor((0xffffffff - HEADER_BYTES) / 2);

/** Header of a file with so many samples. (Microsoft & IBM, Multimedia Programming Interface and Data Specifications 1.0, 1991.) */
export function wavHeader(samples: number, rate: number): Uint8Array {
  const bytes = new Uint8Array(HEADER_BYTES);
  const view = new DataView(bytes.buffer);
  const tag = (at: number, text: string): void => bytes.set(new TextEncoder().encode(text), at);
  tag(0, 'RIFF');
  view.setUint32(4, HEADER_BYTES - 8 + 2 * samples, true);
  tag(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true); // PCM
  view.setUint16(22, 1, true); // channels
  view.setUint32(24, rate, true);
  view.setUint32(28, 2 * rate, true);
  view.setUint16(32, 2, true); // bytes of a sample
  view.setUint16(34, 16, true); // bits
  tag(36, 'data');
  view.setUint32(40, 2 * samples, true);
  return bytes;
}

/** Samples from -1 to 1 as little-endian 16-bit numbers; louder ones are cut. */
export function pcm16(samples: Float32Array): Uint8Array {
  const bytes = new Uint8Array(2 * samples.length);
  const view = new DataView(bytes.buffer);
  samples.forEach((value, i) => {
    const sample = Math.max(-1, Math.min(1, value));
    view.setInt16(2 * i, Math.round(sample * 32767), true);
  });
  return bytes;
}
