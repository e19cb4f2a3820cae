/** What a message between threads hands over instead of copying it. */
export const movable = ({ buffer }: Uint8Array): ArrayBuffer[] => (buffer instanceof ArrayBuffer ? [buffer] : []);
