// Two clocks. The monotonic one never jumps, but stands still while some devices sleep; the wall clock runs on, but may be set.
// Between two looks the monotonic one counts. Where the wall clock ran ahead of it by more than a second, the device slept, and
// the wall clock counts; a wall clock that fell behind was set back, and doesn't.
const sleepAfter = 1000;

function lookAtClocks() {
  return { mono: performance.now(), wall: Date.now() };
}

class Stopwatch {
  #last;
  #sum = 0;
  #slept = 0;

  constructor(pressedAt = null) {
    this.#last = lookAtClocks();
    if (pressedAt !== null) {
      this.#sum = lateBy(pressedAt, this.#last.mono);
    }
  }

  // Milliseconds since the press, to now or to another press.
  elapsed(pressedAt = null) {
    const now = lookAtClocks();
    const mono = now.mono - this.#last.mono;
    const wall = now.wall - this.#last.wall;
    const slept = wall - mono > sleepAfter;
    this.#sum += slept ? wall : mono;
    this.#slept += slept ? wall - mono : 0;
    this.#last = now;
    return this.#sum - (pressedAt === null ? 0 : lateBy(pressedAt, now.mono));
  }

  // Milliseconds the device seems to have slept while this ran.
  get slept() {
    return this.#slept;
  }
}

// How long ago a press was; what can't be, such as a press in the future, counts as now.
function lateBy(pressedAt, now) {
  const late = now - pressedAt;
  return late >= 0 && late < 1000 ? late : 0;
}

// Acts when a pointer or key goes down, not when it comes up again, and once a press.
function onPress(node, act) {
  let pressed = false;
  node.addEventListener("pointerdown", (event) => {
    if (event.button === 0) {
      pressed = true;
      act(event.timeStamp);
    }
  });
  node.addEventListener("keydown", (event) => {
    if ((event.key === " " || event.key === "Enter") && !event.repeat) {
      pressed = true;
      act(event.timeStamp);
    }
  });
  node.addEventListener("click", (event) => {
    // A click without a press before it comes from a reading aid or a switch.
    if (!pressed) {
      act(event.timeStamp);
    }
    pressed = false;
  });
}

function today() {
  const now = new Date();
  const two = (n) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function timeOfDay(at) {
  const time = new Date(at);
  const two = (n) => String(n).padStart(2, "0");
  return `${two(time.getHours())}:${two(time.getMinutes())}:${two(time.getSeconds())}`;
}

// Seconds with one digit, as a stopwatch shows them; minutes where there are any.
function shownTime(ms) {
  const tenths = Math.round(ms / 100);
  const minutes = Math.floor(tenths / 600);
  const seconds = ((tenths % 600) / 10).toFixed(1);
  return minutes > 0 ? `${minutes}:${seconds.padStart(4, "0")}` : seconds;
}
