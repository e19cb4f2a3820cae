/** The parts of the theory library `teoria` (independent of the one in use) that the tests check against. */
declare module 'teoria' {
  export interface TeoriaInterval {
    semitones(): number;
    /** Signed interval number: 1 or 8 upward, -3 downward. */
    value(): number;
  }
  export interface TeoriaNote {
    midi(): number;
    fq(a4?: number): number;
    chroma(): number;
    octave(): number;
    interval(name: string): TeoriaNote;
    interval(to: TeoriaNote): TeoriaInterval;
    /** `f#4`, double sharps as `x`. */
    toString(withoutOctave?: boolean): string;
  }
  const teoria: {
    note(name: string): TeoriaNote;
    interval(name: string): TeoriaInterval;
    scale(tonic: string, name: string): { simple(): string[] };
    chord(name: string): { simple(): string[] };
  };
  export default teoria;
}
