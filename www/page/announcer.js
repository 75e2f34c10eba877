// @ts-check
/**
 * Says things: notices that stand on the page, and news for screen readers.
 */
import { button, element } from './dom.js';

/** How long a notice stands that asks for nothing, in milliseconds. */
const STANDING = 9000;

export class Announcer {
  /**
   * @param {HTMLElement} notices where notices stand
   * @param {HTMLElement} live the polite live region
   */
  constructor(notices, live) {
    this.notices = notices;
    this.live = live;
    /** @type {number | undefined} */
    this.pending = undefined;
  }

  /**
   * A notice of what has worked; it goes by itself.
   * @param {string} text
   */
  tell(text) {
    this.settle();
    const notice = this.stand(text, 'status');
    setTimeout(() => notice.remove(), STANDING);
  }

  /**
   * A notice that stays until it is closed, or until whoever gave it takes it away.
   * @param {string} text
   */
  warn(text) {
    return this.stand(text, 'alert');
  }

  /**
   * A notice that stays until it is closed, with something to do.
   * @param {string} text
   * @param {string} order
   * @param {() => void} act
   */
  offer(text, order, act) {
    this.stand(text, 'status').querySelector('button')?.before(button(order, act, { class: 'strong' }));
  }

  /** Takes away what was said about the last thing that went wrong. */
  settle() {
    for (const notice of this.notices.querySelectorAll('[role=alert].passing')) notice.remove();
  }

  /**
   * What went wrong with the last act; it goes with the next one that works.
   * @param {unknown} error
   */
  refuse(error) {
    this.settle();
    const text = error instanceof Error ? error.message : String(error);
    this.stand(sentence(text), 'alert').classList.add('passing');
  }

  /**
   * News for screen readers, at most twice a second: the last word counts.
   * @param {string} text
   */
  announce(text) {
    clearTimeout(this.pending);
    this.pending = window.setTimeout(() => {
      this.live.textContent = text;
    }, 500);
  }

  /**
   * @param {string} text
   * @param {'status' | 'alert'} role
   */
  stand(text, role) {
    for (const old of [...this.notices.children]) {
      if (old.firstChild?.textContent === text) old.remove();
    }
    const notice = element('div', { class: 'notice', role }, element('span', {}, text));
    notice.append(button('Close', () => notice.remove(), { class: 'quiet' }));
    this.notices.append(notice);
    return notice;
  }
}

/** @param {string} text */
function sentence(text) {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?…]$/.test(capital) ? capital : `${capital}.`;
}
