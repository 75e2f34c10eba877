// @ts-check
/**
 * Asks the browser to keep the page for use without network, and offers a new
 * build when there is one.
 */

/**
 * @param {string} module where the module that calls this was loaded from
 * @param {(text: string, order: string, act: () => void) => void} offer shows a sentence with a button
 */
export async function keepOfflineCopy(module, offer) {
  // The page in one file has no modules, and needs none of this; a page from an insecure host is not given it.
  if (!module.endsWith('/main.js') || !navigator.serviceWorker) return;
  const { serviceWorker } = navigator;
  // The first worker of all takes over a page of the same build: nothing to load again.
  let reloads = serviceWorker.controller !== null;
  serviceWorker.addEventListener('controllerchange', () => {
    if (reloads) location.reload();
    reloads = true;
  });
  try {
    const registration = await serviceWorker.register(new URL('./offline.js', module));
    const look = () => {
      const { waiting } = registration;
      if (waiting && serviceWorker.controller) offer('A newer Loftkin is here. It begins when this page is opened next; your work is kept.', 'Begin it now', () => waiting.postMessage('take over'));
    };
    look();
    registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look));
  } catch {
    // The person or the browser forbids it: the page works all the same while there is network.
  }
}
