/** What a window is like before anyone said otherwise. */
export const PREFERENCES = { theme: 'system', text: 100, notes: 0.7, click: 0.5, countIn: true } as const;
