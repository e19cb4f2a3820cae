/** What a window learns of the program that it belongs to. */

export type About = {
  readonly version: string;
  /** Whether the host shows the system's own file windows; if not, the window shows its own. */
  readonly host: 'electron' | 'loopback';
  readonly mac: boolean;
  /** ISO date of today, for new books. */
  readonly today: string;
  readonly firstRun: boolean;
  /** A book that was asked for before the window was there. */
  readonly open: string | undefined;
};
