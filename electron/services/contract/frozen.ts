/** Types of data that is handed on and never changed. */

/** Plain data that nobody changes. */
export type Frozen<T> = T extends readonly (infer Item)[]
  ? readonly Frozen<Item>[]
  : T extends object
    ? { readonly [Name in keyof T]: Frozen<T[Name]> }
    : T;
