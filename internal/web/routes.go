package web

import (
	"net/http"
)

// routes is the table of contents of the workbench.
func (b *bench) routes() http.Handler {
	mux := http.NewServeMux()
	for pattern, h := range map[string]page{
		"GET /{$}": b.showBench,

		"GET /project/new":          b.newProject,
		"POST /project/new":         b.createProject,
		"GET /project/{id}":         b.showProject,
		"POST /project/{id}":        b.changeProject,
		"POST /project/{id}/end":    b.endProject,
		"GET /project/{id}/bobbin":  b.newBobbin,
		"POST /project/{id}/bobbin": b.createBobbin,

		"GET /bobbin/{id}":          b.showBobbin,
		"POST /bobbin/{id}":         b.changeBobbin,
		"POST /bobbin/{id}/stretch": b.addStretch,
		"POST /bobbin/{id}/away":    b.putAway,

		"GET /project/{id}/wake":    b.showWake,
		"POST /bobbin/{id}/cut":     b.cutSample,
		"POST /bobbin/{id}/soak":    b.startSoak,
		"POST /bobbin/{id}/dried":   b.driedSample,
		"POST /sample/{id}/soaked":  b.endSoak,
		"POST /sample/{id}/reading": b.addReading,
		"POST /project/{id}/target": b.setTarget,

		"GET /project/{id}/forecast": b.showForecast,

		"GET /project/{id}/run":  b.newRun,
		"POST /project/{id}/run": b.createRun,
		"GET /run/{id}":          b.showRun,
		"POST /run/{id}":         b.changeRun,
		"POST /run/{id}/end":     b.endRun,
		"POST /run/{id}/check":   b.checkRun,
		"POST /run/{id}/skein":   b.skeinOfRun,

		"POST /bobbin/{id}/skein":  b.skeinOfBobbin,
		"GET /skein/{id}":          b.showSkein,
		"POST /skein/{id}/measure": b.measureSkein,
		"POST /skein/{id}/wash":    b.washSkein,
		"POST /skein/{id}/hang":    b.hangSkein,
		"POST /skein/{id}/check":   b.checkSkein,

		"GET /machine":               b.showMachines,
		"POST /machine":              b.createMachine,
		"GET /machine/{id}":          b.showMachine,
		"POST /machine/{id}":         b.changeMachine,
		"POST /machine/{id}/whorl":   b.countWhorl,
		"POST /machine/{id}/setting": b.timeMotor,
		"POST /machine/{id}/slip":    b.watchSlip,
		"POST /machine/{id}/bobbin":  b.addSpool,
		"POST /machine/{id}/strike":  b.strikePart,

		"GET /reading/{id}":         b.showReading,
		"POST /reading/{id}/line":   b.dragLine,
		"POST /reading/{id}/again":  b.readAgain,
		"POST /reading/{id}/strike": b.strikeReading,

		"GET /read":         b.askPhoto,
		"POST /read":        b.takePhoto,
		"GET /read/{hash}":  b.showPhoto,
		"GET /photo/{hash}": b.sendPhoto,

		"GET /plan":           b.showPlans,
		"GET /plan/new":       b.newPlan,
		"POST /plan/new":      b.createPlan,
		"GET /plan/{id}":      b.showPlan,
		"POST /plan/{id}":     b.changePlan,
		"GET /plan/plan.toml": b.sendPlan,
		"GET /plan/sheet.pdf": b.printPlan,

		"GET /stash":               b.showStash,
		"POST /stash/lot":          b.createLot,
		"GET /lot/{id}":            b.showLot,
		"POST /lot/{id}/weigh":     b.weighLot,
		"POST /lot/{id}/strike":    b.strikeOfLot,
		"POST /bobbin/{id}/weigh":  b.weighBobbin,
		"POST /bobbin/{id}/strike": b.strikeOfBobbin,
		"GET /swatch/new":          b.newSwatch,
		"POST /swatch/new":         b.createSwatch,
		"GET /swatch/{id}":         b.showSwatch,
		"POST /swatch/{id}":        b.changeSwatch,
		"POST /swatch/{id}/strike": b.strikeSwatch,
		"POST /skein/{id}/use":     b.useSkein,

		"GET /yarn.png": b.drawYarn,
		"GET /hand":     b.showHand,
		"GET /help":     b.showHelp,
	} {
		mux.Handle(pattern, b.serve(h))
	}
	mux.Handle("GET /assets/{name}", b.pages.assets)
	mux.Handle("/", b.serve(b.noSuchPage))
	return mux
}

// page answers a request, or returns why it could not.
type page func(w http.ResponseWriter, r *http.Request) error

// Largest bodies taken: a form of words, and a form with photographs.
const (
	maxForm   = 256 << 10
	maxUpload = 80 << 20
)

// serve bounds the body and turns an error into a page.
func (b *bench) serve(h page) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		limit := int64(maxForm)
		if r.Method == http.MethodPost && takesPhotos(r.URL.Path) {
			limit = maxUpload
		}
		r.Body = http.MaxBytesReader(w, r.Body, limit)
		if err := h(w, r); err != nil {
			b.fail(w, r, err)
		}
	})
}
