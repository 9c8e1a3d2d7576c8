import type { Art } from '../../core/art/layer.ts'
import type { Finding } from '../../core/base/finding.ts'
import { blankFileId, type ImportedArt } from '../../core/host/contract.ts'
import { relinkArt } from '../../core/job/edit.ts'
import { type Desk, importArt } from './open.ts'
import { inSession, type OpenArt } from './state.ts'
import { report, say } from './work.ts'

/** How often the art's file is looked at, ms. A save by another program is seen after two looks that agree. */
const lookMs = 1200

/**
 * Reads the art again when its file was saved by another program; roles, areas and everything else of the job stay.
 * Returns the function that ends it.
 */
export function watchArt(desk: Desk, everyMs = lookMs): () => void {
  const { store, host } = desk
  /** How the file stood when it was read, and at the last look. */
  let read: { readonly fileId: string; readonly state: string } | null = null
  let last: string | null = null
  let busy = false
  const timer = setInterval(() => void look(), everyMs)
  return () => clearInterval(timer)

  async function look(): Promise<void> {
    const { art, work } = store.get().session
    if (art === null || art.file.id === blankFileId) {
      read = null
      return
    }
    if (busy || work?.blocks) return
    busy = true
    try {
      // The host that stopped answering says so at the next thing the user asks.
      const state = await host('artState', { fileId: art.file.id }).catch(() => null)
      if (state === null) return
      if (read?.fileId !== art.file.id) read = { fileId: art.file.id, state }
      else if (state !== read.state && state === last) {
        read = { fileId: art.file.id, state }
        await again(art)
      }
      last = state
    } finally {
      busy = false
    }
  }

  async function again(old: OpenArt): Promise<void> {
    try {
      const fresh = await importArt(desk, old.file)
      if (fresh !== null && fresh.sha256 !== old.sha256) put(old, fresh)
    } catch (error) {
      report(store, error)
    }
  }

  function put(old: OpenArt, fresh: ImportedArt): void {
    const change = artChange(old.art, fresh.art)
    store.set(state => {
      if (state.job === null || state.session.art?.file.id !== old.file.id) return state
      const path = state.job.art?.path ?? fresh.job.art?.path ?? old.file.name
      const job = relinkArt({ path, sha256: fresh.sha256 }, fresh.job.found)(state.job)
      const { art, sha256, assigned } = fresh
      const findings = [change, ...fresh.findings]
      return { ...inSession(state, { art: { ...old, art, sha256, assigned, findings } }), job }
    })
    say(store, `${old.file.name} was saved again and read anew: ${change.message}.`)
  }
}

/** What another saving changed, layer by layer; names that a long list leaves out are counted. */
export function artChange(before: Art, after: Art): Finding {
  const old = new Map(before.layers.map(layer => [layer.id, layer]))
  const now = new Map(after.layers.map(layer => [layer.id, layer]))
  const added = after.layers.filter(layer => !old.has(layer.id))
  const gone = before.layers.filter(layer => !now.has(layer.id))
  const renamed = after.layers.filter(layer => (old.get(layer.id)?.name ?? layer.name) !== layer.name)
  const parts = [
    before.width === after.width && before.height === after.height
      ? null
      : `${before.width} × ${before.height} px became ${after.width} × ${after.height} px`,
    listed('new', added),
    listed('gone', gone),
    listed('renamed', renamed),
  ].filter(part => part !== null)
  return {
    severity: 'note',
    code: 'art-changed',
    where: 'document',
    message: parts.length === 0 ? 'same layers, other pixels' : parts.join('; '),
    fix: 'Roles, areas and effects were kept. Look through the stack where layers are new or gone.',
  }
}

function listed(what: string, layers: Art['layers']): string | null {
  if (layers.length === 0) return null
  const names = layers.slice(0, 4).map(layer => `"${layer.name}"`)
  const more = layers.length - names.length
  return `${what}: ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`
}
