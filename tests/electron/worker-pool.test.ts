import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { expect, test } from 'vitest'

/** Answers whatever it is asked. */
const worker = `import { parentPort } from 'node:worker_threads'
parentPort.on('message', ({ id }) => parentPort.postMessage({ id, kind: 'value', value: 1 }))`

/** A program that closes its pool while an answer is on its way, and has nothing else to live for. */
const program = (vite: string, workerFile: string) => `import { createServer } from '${vite}'
const server = await createServer({
  configFile: false, logLevel: 'error', optimizeDeps: { noDiscovery: true },
  server: { middlewareMode: true, hmr: false, watch: null },
})
const { WorkerPool } = await server.ssrLoadModule('/electron/worker-pool.ts')
await server.close()
const pool = new WorkerPool(${JSON.stringify(workerFile)}, 1)
await pool.run('any', 0)
const given = pool.run('any', 0).catch(error => error.name)
Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 100)
await pool.close()
console.log(await given)`

test('a pool that closes while an answer is on its way ends its threads before its program ends', () => {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-pool-'))
  try {
    const [asked, run] = [join(folder, 'worker.mjs'), join(folder, 'run.mjs')]
    writeFileSync(asked, worker)
    writeFileSync(run, program(pathToFileURL(join('node_modules/vite/dist/node/index.js')).href, asked))
    // Unsettled, Node would end with 13.
    const { status, stdout } = spawnSync(process.execPath, [run], { encoding: 'utf8' })
    expect([status, stdout.trim()]).toEqual([0, 'Cancelled'])
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
