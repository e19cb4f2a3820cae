/** The faults of one place of a file and of what lies below it. */
import type { Issue } from '../../core/base/issue.js';

type Path = readonly (string | number)[];

/** Gives the faults below a path that is counted from here. */
export type IssuesAt = (...path: Path) => readonly Issue[];

export const issuesAt =
  (issues: readonly Issue[], ...from: Path): IssuesAt =>
  (...path) => {
    const wanted = [...from, ...path];
    return issues.filter((issue) => wanted.every((part, i) => issue.path[i] === part));
  };

export const NO_ISSUES: IssuesAt = () => [];
