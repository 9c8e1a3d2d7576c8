import { usualTurning } from '../core/effects/object/turn.ts'
import type { AddedAsset } from '../core/host/assets.ts'
import type { Handlers } from '../core/host/contract.ts'
import { checkJob } from '../core/job/parse.ts'
import { assetFiles } from './asset-places.ts'
import { viewPicture } from './asset-views.ts'
import { chosen, type PageFiles } from './page-files.ts'
import type { RunningTasks } from './running.ts'
import { dialogsOf, type Shell } from './shell.ts'
import type { WorkerPool } from './worker-pool.ts'
import type { ArtCrafts } from './workers/art.ts'

/** What these handlers ask of the host. */
interface AssetHost {
  readonly shell: Shell
  readonly files: PageFiles
  readonly tasks: RunningTasks
  readonly light: WorkerPool<ArtCrafts>
}

/** Files of effects, and the print condition's profile. */
export function assetHandlers({
  shell,
  files: { book, assets },
  tasks,
  light,
}: AssetHost): Pick<Handlers, 'addProfile' | 'chooseAsset' | 'addAsset' | 'assetPictures'> {
  return {
    addProfile: async ({ fileId }) => {
      const profile = chosen(book.get(fileId))
      // Read once, so that what is no print condition is refused here and not when the map is built.
      const name = await light.run('profile', { path: profile.path })
      const [file] = await assets.add([profile])
      if (file === undefined) throw new Error('a profile was lost')
      return { file, name }
    },

    chooseAsset: async ({ kind }) => {
      const paths = await dialogsOf(shell).openAsset(kind)
      return paths.map(path => book.note(path).ref)
    },

    addAsset: ({ kind, fileIds, taskId }) =>
      tasks.run(taskId, async (task): Promise<AddedAsset> => {
        const files = await assetFiles(
          kind,
          fileIds.map(id => chosen(book.get(id))),
        )
        const added = await assets.add(files, task)
        const asset = {
          id: kind,
          files: added,
          ...(kind === 'model' ? { kind, turning: usualTurning } : { kind }),
        }
        // Read once, so that what is not fit is refused here and not when the map is built.
        const placed = assets.place([asset])[0]
        if (placed === undefined) throw new Error('an asset was lost')
        const { findings } = await light.run('asset', { placed }, task)
        return { files: added, findings }
      }),

    assetPictures: async ({ job, assetId, size }) => {
      const asset = checkJob(job, 'the job').assets.find(one => one.id === assetId)
      const [placed] = asset === undefined ? [] : assets.place([asset])
      if (placed === undefined || placed.files.every(file => file.path === null))
        return { pictures: [], findings: [] }
      const { views, findings } = await light.run('asset', { placed })
      return { pictures: views.map(view => viewPicture(view, size)), findings }
    },
  }
}
