# Two commands: make run, make test. The work is in .ci/.
.PHONY: run test

run:
	@.ci/with-go .ci/build
	@exec build/brinebench serve -dir build/site $(if $(PORT),-addr localhost:$(PORT))

test:
	@.ci/with-go .ci/test
