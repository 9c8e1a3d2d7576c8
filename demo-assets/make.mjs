/** Makes demo.psd, demo.job.json, demo.pdf, demo.tif, demo.svg, faulty.psd, faulty.job.json and eyepiece.glb anew. Run: node demo-assets/make.mjs */
import { readFileSync, writeFileSync } from 'node:fs'
import { createServer } from 'vite'

const here = name => new URL(name, import.meta.url)
const server = await createServer({
  configFile: false,
  root: here('..').pathname,
  logLevel: 'error',
  server: { middlewareMode: true, hmr: false, watch: null },
  optimizeDeps: { noDiscovery: true },
})
try {
  const { makeArt, makeJob } = await server.ssrLoadModule('/demo-assets/make.ts')
  const { makeFaultyArt, makeFaultyJob } = await server.ssrLoadModule('/demo-assets/faulty.ts')
  const { makeEyepiece } = await server.ssrLoadModule('/demo-assets/eyepiece.ts')
  writeFileSync(here('eyepiece.glb'), makeEyepiece())
  const { makePdf } = await server.ssrLoadModule('/demo-assets/pdf.ts')
  const { makeTiff } = await server.ssrLoadModule('/demo-assets/tiff.ts')
  const { makeSvg } = await server.ssrLoadModule('/demo-assets/svg.ts')
  const profile = readFileSync(here('../core/data/icc/ISOcoated_v2_300_bas.icc'))
  const art = await makeArt(profile)
  writeFileSync(here('demo.psd'), art)
  writeFileSync(here('demo.job.json'), await makeJob(art))
  writeFileSync(here('demo.pdf'), makePdf(profile))
  writeFileSync(here('demo.tif'), await makeTiff(profile))
  writeFileSync(here('demo.svg'), makeSvg())
  const faulty = makeFaultyArt()
  writeFileSync(here('faulty.psd'), faulty)
  writeFileSync(here('faulty.job.json'), await makeFaultyJob(faulty))
} finally {
  await server.close()
}
