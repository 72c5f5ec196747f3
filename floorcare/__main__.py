"""`python -m floorcare` and the installed command `floorcare`."""


def main() -> None:
    """Hand over to the command line face; imported here so that nothing heavy loads twice."""
    from floorcare.faces.cli.app import run

    run()


if __name__ == "__main__":
    main()
