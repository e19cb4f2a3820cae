/** `1 page`, `2 pages`. */
export const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;
