import type { ArtFile } from '../core/art/layer.ts'
import { partOf, type Task } from '../core/base/task.ts'
import { makePlates } from '../core/export/plate-files.ts'
import { labelFontFile } from '../core/export/plate-font.ts'
import type { MadePlates, PlateLabel, PlateWish } from '../core/export/plate-wish.ts'
import { type JobWork, mapWork } from './art-work.ts'
import { shippedFile } from './shipped-file.ts'

/** What plates of a job are asked for, and what is written on them. */
export interface PlateOrder {
  readonly wish: PlateWish
  readonly label: PlateLabel
}

/** The plates of a job's art, white that was made of it included. Rejects with BadInput, or Cancelled when told to stop. */
export async function platesForJob(
  file: ArtFile,
  { job, profile }: JobWork,
  { wish, label }: PlateOrder,
  task?: Task,
): Promise<MadePlates> {
  // Pictures and models show in holography alone, which no plate prints.
  const { options, findings } = await mapWork(file, { job, assets: [], profile }, partOf(task, 0, 0.2))
  const labelFont = await shippedFile('fonts', labelFontFile)
  const made = await makePlates({ file, job, options, wish, label, labelFont }, partOf(task, 0.2, 1))
  return { ...made, findings: [...findings, ...made.findings] }
}
