/** How this person likes the window; kept on the machine. */

export type Preferences = {
  readonly theme: 'system' | 'light' | 'dark';
  /** Text size as a percentage. */
  readonly text: number;
  /** Volume of notes and clicks, 0 to 1. */
  readonly notes: number;
  readonly click: number;
  readonly countIn: boolean;
  /** Folder of the last printing. */
  readonly folder?: string | undefined;
};

export const PREFERENCES: Preferences = { theme: 'system', text: 100, notes: 0.7, click: 0.5, countIn: true };
