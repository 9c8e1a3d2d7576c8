import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { ViewerScripts } from '../core/export/proof-page.ts'
import { distFolder } from './places.ts'

/** What runs inside a proof, as it was built. Rejects with BadInput where it was not. */
export async function viewerScripts(): Promise<ViewerScripts> {
  const [loader, viewer, css] = await Promise.all([
    part('loader', 'loader.js'),
    part('viewer', 'viewer.js'),
    part('viewer', 'viewer.css'),
  ])
  return { loader, viewer, css }
}

const part = (folder: string, name: string): Promise<string> =>
  readFile(join(distFolder, folder, name), 'utf8').catch(() => {
    throw new BadInput(
      'viewer-not-built',
      'rakelight',
      `dist/${folder}/${name}`,
      'is not there: the live view of a proof was not built',
      'Run npm run build',
    )
  })
