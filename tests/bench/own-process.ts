import { spawnSync } from 'node:child_process'

/**
 * What an exported function of a bench makes of a file, in a process of its own: memory that whoever wrote the file gave
 * back does not stand in for memory of the reader.
 * @param module `import.meta.url` of the bench
 * @param name   of the function: it takes the path and resolves to plain data
 */
export function ownProcess<T>(module: string, name: string, path: string): T {
  const [from, where] = [module, path].map(text => JSON.stringify(text))
  const call = `const { ${name} } = await import(${from}); console.log(JSON.stringify(await ${name}(${where})))`
  const child = spawnSync(process.execPath, ['--input-type=module', '-e', call], { encoding: 'utf8' })
  if (child.status !== 0) throw new Error(`${name} ended with status ${child.status}: ${child.stderr}`)
  return JSON.parse(child.stdout)
}

/** Most bytes that this process held beyond what it held when the watch began, looked at every 10 ms. */
export function watchMemory() {
  const before = process.memoryUsage().rss
  let beyond = 0
  /** @param kept bytes that count for nothing: what the work is to keep */
  const look = (kept = 0) => {
    beyond = Math.max(beyond, process.memoryUsage().rss - before - kept)
  }
  return { look, most: () => beyond }
}

/** Processor seconds of this process since `began`. */
export function secondsSince(began: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(began)
  return (user + system) / 1e6
}

/**
 * Processor seconds that a command takes to read a file; null where it is not installed. Allow it one thread: idle ones
 * spin, which would count as work.
 * @param command in which `"$0"` stands for the file
 */
export function commandSeconds(
  command: string,
  file: string,
  env: Readonly<Record<string, string>>,
): number | null {
  // `times` prints what the children took, in its last line.
  const done = spawnSync('bash', ['-c', `${command} && times`, file], {
    env: { ...process.env, ...env },
    encoding: 'utf8',
  })
  if (done.error || done.status === 127) return null
  if (done.status !== 0) throw new Error(`${command} ended with status ${done.status}: ${done.stderr}`)
  const taken = done.stdout
    .trim()
    .split('\n')
    .at(-1)!
    .matchAll(/(\d+)m([\d.]+)s/g)
  return [...taken].reduce((sum, [, minutes, seconds]) => sum + Number(minutes) * 60 + Number(seconds), 0)
}
