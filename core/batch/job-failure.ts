/** Faults of the program that end a job and not the batch. */

/** A fault of the program, met in a job. */
export class JobFailure extends Error {}

/** The thread for a job did not even start. */
export class NoThread extends JobFailure {}
