import { textToBytes } from '../../core/base/text85.ts'
import { pageParts } from '../../core/proof/page-parts.ts'

/*
 * Unpacks the script of the live view and runs it as a script of the page: the page's policy knows the hash of both, and
 * allows no other. Where the browser cannot, the still picture stays.
 */
async function load(): Promise<void> {
  const packed = textToBytes(document.getElementById(pageParts.viewer)?.textContent ?? '')
  const plain = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate'))
  const script = document.createElement('script')
  script.textContent = await new Response(plain).text()
  document.head.append(script)
}

void load()
