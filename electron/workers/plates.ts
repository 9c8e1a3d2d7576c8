import { holdPictures } from '../../core/art/held-picture.ts'
import { partOf } from '../../core/base/task.ts'
import type { MadePlates } from '../../core/export/plate-wish.ts'
import { ArtShelf, type JobWork } from '../art-work.ts'
import type { PlacedArt } from '../placed-art.ts'
import { type PlateOrder, platesForJob } from '../plate-work.ts'
import { serveWork } from '../worker-side.ts'

export type PlateCrafts = {
  /** No art stands for a panel that has none yet. */
  plates: { input: { readonly art: PlacedArt | null } & JobWork & PlateOrder; value: MadePlates }
}

const shelf = new ArtShelf()

serveWork<PlateCrafts>({
  async plates({ art, wish, label, ...work }, task) {
    const file = await shelf.forJob(art, work.job, partOf(task, 0, 0.05))
    const letGo = holdPictures(file)
    try {
      const value = await platesForJob(file, work, { wish, label }, partOf(task, 0.05, 1))
      return { value, transfer: value.files.map(({ bytes }) => bytes.buffer) }
    } finally {
      letGo()
    }
  },
})
