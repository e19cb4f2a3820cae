/** The job with the fonts and the rasteriser that lie beside the program. */
import { installedFonts } from '../../../core/disk/fonts.js';
import { installedRasteriser } from '../../../core/disk/rasteriser.js';
import type { JobPort } from '../contract/job-messages.js';
import { serveJob } from './serve-job.js';

export const serveInstalled = (port: JobPort): void => serveJob(port, installedFonts(), installedRasteriser);
