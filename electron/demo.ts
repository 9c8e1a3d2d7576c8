import { copyFile, readFile, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { parseJob } from '../core/job/parse.ts'
import { distFolder } from './places.ts'
import { makeFolder } from './write-file.ts'

const jobName = 'demo.job.json'

/**
 * Puts the demo carton into the user's data folder and gives the path of its job: nobody works on the program's own
 * files. What is there already from this version is left alone.
 */
export async function layOutDemo(dataFolder: string): Promise<string> {
  const from = join(distFolder, '..', 'demo-assets')
  const to = join(dataFolder, 'demo')
  try {
    const job = parseJob(await readFile(join(from, jobName), 'utf8'), jobName)
    const names = [
      jobName,
      ...(job.art === null ? [] : [job.art.path]),
      ...job.assets.flatMap(asset => asset.files.map(file => file.path)),
      ...(job.print.profile === null ? [] : [job.print.profile.path]),
    ]
    for (const name of names) {
      const place = join(to, ...name.split('/'))
      await makeFolder(dirname(place))
      if (!(await same(join(from, name), place))) await copyFile(join(from, name), place)
    }
  } catch (error) {
    if (error instanceof BadInput) throw error
    throw new BadInput(
      'no-demo',
      'the demo',
      to,
      `cannot be laid out (${error instanceof Error && 'code' in error ? String(error.code) : String(error)})`,
      'Open art of your own',
    )
  }
  return join(to, jobName)
}

/** Of one length and not older than its original. */
async function same(original: string, copy: string): Promise<boolean> {
  const [a, b] = await Promise.all([stat(original), stat(copy).catch(() => null)])
  return b !== null && a.size === b.size && b.mtimeMs >= a.mtimeMs
}
