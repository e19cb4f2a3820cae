/** What a book may choose from: instruments, figures, key orders, rhythms, scales, metres. Names as printed. */
import type { KeyOrderName } from '../../../../core/exercise/key-order.js';
import type { Clef } from '../../../../core/player/player.js';

export type PitchView = { readonly name: string; readonly shown: string; readonly key: number };

export type WheelKey = {
  /** Place on the wheel: fifths from C, 0 to 11. */
  readonly spot: number;
  /** Name to show and name to write into the book. */
  readonly shown: string;
  readonly written: string;
  /** Every way to write it in a book. */
  readonly names: readonly string[];
};

export type InstrumentEntry = {
  readonly id: string;
  readonly name: string;
  readonly family: string;
  readonly clef: Clef;
  readonly pitchedIn: string | undefined;
  readonly breath: boolean;
  readonly compass: Readonly<Record<string, { readonly low: PitchView; readonly high: PitchView }>>;
};

export type FigureEntry = {
  readonly id: string;
  readonly title: string;
  readonly group: string;
  readonly text: string;
  readonly draws: string;
  readonly scale: string;
};

export type OrderEntry = {
  readonly name: KeyOrderName;
  readonly title: string;
  readonly steps: string;
  /** Spots on the wheel, from the first key; empty for an own order. */
  readonly spots: readonly number[];
  readonly names: readonly string[];
};

export type Lists = {
  readonly instruments: readonly InstrumentEntry[];
  readonly levels: readonly string[];
  readonly groups: readonly string[];
  readonly figures: readonly FigureEntry[];
  readonly orders: readonly OrderEntry[];
  readonly rhythms: readonly { readonly name: string; readonly title: string; readonly text: string }[];
  readonly scales: readonly string[];
  readonly metres: readonly string[];
  /** Round the circle of fifths from C. */
  readonly wheel: readonly WheelKey[];
  /** Every key of a keyboard from A0 to C8; `black` keys by their flat names. */
  readonly keyboard: readonly (PitchView & { readonly black: boolean })[];
  /** Bytes of the largest file from which a figure is read. */
  readonly importLimit: number;
};
