import type { Host } from '../../core/host/contract.ts'
import type { Picture } from '../../core/host/picture.ts'
import { setRole } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import type { Amount, RoleName, Target } from '../../core/roles/role.ts'

export interface Wanted {
  readonly fileId: string
  readonly target: Target
  readonly show: 'colour' | 'amount'
  readonly role: RoleName
  readonly amount: Amount
  /** Longest side, px. */
  readonly size: number
}

/** Small pictures of layers, asked for once each. */
export interface Previews {
  get(wanted: Wanted, job: Job): Promise<Picture>
}

/** Two at a time: previews must never hold up the material map. */
const atOnce = 2

/** Enough for a large file with every reading of every layer; each picture is a few kilobytes. */
const kept = 1000

export function createPreviews(host: Host): Previews {
  const pictures = new Map<string, Promise<Picture>>()
  const waiting: (() => void)[] = []
  let running = 0
  return {
    get(wanted, job) {
      const key = JSON.stringify(wanted)
      const known = pictures.get(key)
      if (known !== undefined) return known
      const picture = queue(() => {
        // The reading is pinned, so that the picture depends on nothing but its key.
        const asked = setRole(wanted.target, wanted.role, wanted.amount)(job)
        const { fileId, target, show, size } = wanted
        return host('preview', { fileId, target, show, size, job: { ...asked } })
      })
      if (pictures.size >= kept) pictures.clear()
      pictures.set(key, picture)
      picture.catch(() => pictures.delete(key))
      return picture
    },
  }

  async function queue<T>(run: () => Promise<T>): Promise<T> {
    if (running >= atOnce) await new Promise<void>(go => waiting.push(go))
    running++
    try {
      return await run()
    } finally {
      running--
      waiting.shift()?.()
    }
  }
}
